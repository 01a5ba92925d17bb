import { ANALYSERS } from '../analysers/registry.ts';
import { effectiveLimits } from '../build-sheet/effective-limits.ts';
import type { Limit } from '../build-sheet/limit.ts';
import { parseBuildSheet } from '../build-sheet/read-build-sheet.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { textTable } from '../render/terminal/text-table.ts';
import { wrap } from '../render/terminal/wrap.ts';
import { findBuildSheet } from '../run/find-sheets.ts';

const DEFINITIONS = ANALYSERS.flatMap((analyser) => analyser.meta.limits);

/** Every limit with its source; those of the build sheet are marked. */
export function limitsText(buildPath: string | undefined, cwd: string, width: number): string {
  const sheet = findBuildSheet(buildPath, cwd);
  const limits: Limit[] = sheet
    ? [...effectiveLimits(DEFINITIONS, parseBuildSheet(sheet.text, sheet.name), sheet.name).values()]
    : DEFINITIONS.map((definition) => ({ ...definition, from: 'default' }));
  const rows = limits.map((limit) => [
    limit.id,
    level(limit.warn, limit.unit),
    level(limit.fail, limit.unit),
    limit.from === 'default' ? limit.source : 'build sheet',
  ]);
  const columns = [
    { name: 'Limit' },
    { name: 'Warn', align: 'right' as const },
    { name: 'Fail', align: 'right' as const },
    { name: 'Where from' },
  ];
  const about = sheet
    ? `Limits in force for ${sheet.name}: the defaults, and what the build sheet put in their place. A value at or above a limit trips it.`
    : 'Default limits: no build sheet was given and none lies here or above. A value at or above a limit trips it.';
  return `${[...wrap(about, width), '', ...textTable(columns, rows, width)].join('\n')}\n`;
}

function level(value: number | undefined, unit: string): string {
  return value === undefined ? '–' : formatQuantity(value, unit);
}
