import { ANALYSERS } from '../analysers/registry.ts';
import { effectiveLimits } from '../build-sheet/effective-limits.ts';
import type { Limit, LimitDefinition } from '../build-sheet/limit.ts';
import { parseBuildSheet } from '../build-sheet/read-build-sheet.ts';
import type { SheetText } from './log-input.ts';
import { sha256 } from './sha256.ts';

interface Levels {
  /** Null where there is none. */
  readonly warn: number | null;
  readonly fail: number | null;
}

/** The limits that a check would judge by, as printed and as JSON. */
export interface LimitsInForce {
  readonly pullgate: 'limits/1';
  /** Null where no build sheet was given and none lies about. */
  readonly build: { readonly file: string; readonly title: string; readonly sha256: string } | null;
  readonly limits: readonly (Levels & {
    readonly id: string;
    readonly title: string;
    readonly unit: string;
    readonly from: 'default' | 'build sheet';
    readonly source: string;
    readonly default: Levels;
  })[];
}

const DEFINITIONS = ANALYSERS.flatMap((analyser) => analyser.meta.limits);

export function limitsInForce(sheet: SheetText | undefined): LimitsInForce {
  if (sheet === undefined) {
    const limits = DEFINITIONS.map((definition) => fact({ ...definition, from: 'default' }, definition));
    return { pullgate: 'limits/1', build: null, limits };
  }
  const build = parseBuildSheet(sheet.text, sheet.name);
  const table = effectiveLimits(DEFINITIONS, build, sheet.name);
  const limits = DEFINITIONS.map((definition) => fact(table.get(definition.id) as Limit, definition));
  const source = { file: sheet.name, title: build.title ?? sheet.name, sha256: sha256(sheet.text) };
  return { pullgate: 'limits/1', build: source, limits };
}

const levelsOf = ({ warn, fail }: Pick<Limit, 'warn' | 'fail'>): Levels => ({ warn: warn ?? null, fail: fail ?? null });

function fact(limit: Limit, definition: LimitDefinition): LimitsInForce['limits'][number] {
  const { id, title, unit, from, source } = limit;
  return { id, title, unit, ...levelsOf(limit), from, source, default: levelsOf(definition) };
}
