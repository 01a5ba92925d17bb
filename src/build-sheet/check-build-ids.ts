import { didYouMean } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';
import type { Build } from './build.ts';

export interface KnownIds {
  readonly analysers: readonly string[];
  readonly channels: readonly string[];
}

function checkList(ids: readonly string[], known: readonly string[], kind: string, key: string, file: string): void {
  for (const [i, id] of ids.entries()) {
    if (known.includes(id)) continue;
    const mend = didYouMean(id, known) ?? (known.length <= 20 ? `There are ${known.join(', ')}.` : undefined);
    throw new UserError(`"${id}" is not ${kind}.`, `${file}, ${key}[${i}]`, mend);
  }
}

/** Analysers and channels that the build sheet names must exist; a misspelt one is a UserError with near names. */
export function checkBuildIds(build: Build, known: KnownIds, file: string): void {
  checkList(build.required, known.analysers, 'an analyser', 'required', file);
  checkList(build.expect.disconnected, known.channels, 'a channel', 'expect.disconnected', file);
}
