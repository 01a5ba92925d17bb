import { existsSync, readdirSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { compareText } from '../kernel/compare-text.ts';
import { nearNames } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';
import { isLogName } from './log-name.ts';
import { shownPath } from './shown-path.ts';

const LISTED = 3;
const CHECK = 'Check the path.';

/** A path that leads nowhere: from which part on, and what of that name or kind lies there. */
export function missingPath(argument: string, cwd: string): UserError {
  const path = resolve(cwd, argument);
  let gone = path;
  while (dirname(gone) !== gone && !existsSync(dirname(gone))) gone = dirname(gone);
  const beside = namesIn(dirname(gone));
  const shown = shownPath(argument, cwd);
  const near = nearNames(basename(gone), beside, 2).map((name) => `"${name}"`);
  const mend = near.length > 0 ? `Did you mean ${near.join(' or ')}?` : undefined;
  if (gone !== path) {
    return new UserError(`there is no folder "${basename(gone)}" on the way.`, shown, mend ?? CHECK);
  }
  return new UserError('there is no such file or folder.', shown, mend ?? logsThere(beside) ?? CHECK);
}

/** What else is there: the logs of the folder. */
function logsThere(names: readonly string[]): string | undefined {
  const logs = names.filter(isLogName);
  if (logs.length === 0) return undefined;
  const more = logs.length > LISTED ? ` and ${logs.length - LISTED} more` : '';
  return `The folder holds ${logs.slice(0, LISTED).join(', ')}${more}.`;
}

/** Texts that loggers write under other endings. */
const MAYBE_LOG = /\.(txt|log|tsv|dat|asc)$/i;

/** A folder without *.csv: says which other text in it may be the log. */
export function noLogsIn(folder: string, shown: string): UserError {
  const [other] = namesIn(folder).filter((name) => MAYBE_LOG.test(name));
  const mend =
    other === undefined
      ? 'Name a folder that holds logs, or the log itself.'
      : `If ${other} is the log, name it: ${shownPath(join(shown, other), folder)}.`;
  return new UserError('there is no *.csv file in this folder or below it.', shown, mend);
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder).sort(compareText);
  } catch {
    return [];
  }
}
