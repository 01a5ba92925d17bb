import { nearNames } from '../kernel/near-name.ts';
import { shownText } from '../kernel/shown-text.ts';
import { UserError } from '../kernel/user-error.ts';
import { recogniseUnit } from '../units/recognise-unit.ts';
import { withoutUnit } from './header-unit.ts';

const isUnit = (text: string) => recogniseUnit(text) !== undefined;

const foldCase = (name: string) => name.toLowerCase().replace(/\s+/gu, '');
/** A name as the second step compares it. */
export const foldUnit = (name: string): string => foldCase(withoutUnit(name.trim(), isUnit));

/** Exactly, then ignoring case, spacing and a unit at the end. */
const STEPS: readonly ((name: string) => string)[] = [(name) => name, foldUnit];

/** All columns that a mapped name may mean, by the first step that finds any. */
export function candidates(wanted: string, names: readonly string[]): number[] {
  for (const step of STEPS) {
    const folded = step(wanted);
    const found: number[] = [];
    for (let i = 0, n = names.length; i < n; i++) if (step(names[i]) === folded) found.push(i);
    if (found.length > 0) return found;
  }
  return [];
}

const LISTED = 12;

const quoted = (names: readonly string[]) => names.map((name) => `"${name}"`).join(', ');

function known(wanted: string, names: readonly string[]): string {
  const bare = new Map(names.map((name) => [foldUnit(name), name] as const).filter(([folded]) => folded.length > 1));
  const near = nearNames(foldUnit(wanted), bare.keys()).map((name) => bare.get(name));
  if (near.length > 0) return `Did you mean ${near.map((name) => `"${name}"`).join(' or ')}?`;
  if (names.length === 0) return 'The log has no column that may be shown.';
  const more = names.length > LISTED ? ` and ${names.length - LISTED} more` : '';
  return `The log has ${quoted(names.slice(0, LISTED))}${more}.`;
}

/**
 * Index of the column that a mapped name means. A missing or ambiguous one is a UserError that lists near names.
 * @param key key path in the mapping, for the message
 * @param present all names in the log that may be shown, where `names` holds only those that were read
 */
export function findColumn(
  wanted: string,
  names: readonly string[],
  key: string,
  present: readonly string[] = names,
): number {
  const found = candidates(wanted, names);
  if (found.length === 1) return found[0];
  if (found.length === 0) {
    throw new UserError(`the log has no column ${shownText(wanted)}.`, `mapping, ${key}`, known(wanted, present));
  }
  const same = new Set(found.map((i) => names[i])).size === 1;
  throw new UserError(
    `${shownText(wanted)} may mean ${found.length} columns${same ? ' of that name' : `: ${quoted(found.map((i) => names[i]))}`}.`,
    `mapping, ${key}`,
    same ? 'Rename one of them in the log.' : 'Write the name exactly as in the header.',
  );
}
