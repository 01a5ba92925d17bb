import { UserError } from '../kernel/user-error.ts';
import { mappedChannels } from './columns-wanted.ts';
import type { Mapping } from './mapping-schema.ts';
import { candidates } from './match-column.ts';
import { shownColumn } from './personal-column.ts';

/** A mapping that misses so many columns, and so large a share of them, was written for another logger. */
const FEWEST_MISSING = 3;
const SHARE_MISSING = 0.5;
const LISTED = 3;

/** Says so where most columns that a mapping names are not in the log; undefined where it is one slip or two. For a log with a column per channel. */
export function foreignLog(mapping: Mapping, names: readonly string[]): UserError | undefined {
  if (mapping.layout === 'long') return undefined;
  const time = 'column' in mapping.time ? [mapping.time.column] : [];
  const named = [...time, ...mappedChannels(mapping).map(([, { column }]) => column)];
  const missing = named.filter((column) => candidates(column, names).length === 0);
  if (missing.length < FEWEST_MISSING || missing.length < SHARE_MISSING * named.length) return undefined;
  const listed = missing.slice(0, LISTED).map(shownColumn).join(', ');
  const more = missing.length > LISTED ? ` and ${missing.length - LISTED} more` : '';
  return new UserError(
    `${missing.length} of the ${named.length} columns that the mapping names are not in this log: ${listed}${more}.`,
    'mapping, channels',
    'It looks like the mapping of another logger. "pullgate map LOG" drafts one for this log; give it with --map.',
  );
}
