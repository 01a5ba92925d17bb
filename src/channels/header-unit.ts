import type { Column } from '../read/table.ts';
import type { PressureReference, RecognisedUnit } from '../units/recognise-unit.ts';
import type { ChannelId } from './catalogue.ts';
import { dimensionOfChannel, mayBeGauge, unitOn } from './channel-kind.ts';

/** An opening bracket that nothing closes runs to the end, so that the time stays linear. */
const BRACKETED = /[[({<]([^\])}>]*)([\])}>])?/g;
/** `_kPa`, ` km/h`, `-rpm`, `, V` at the end of a name, one or two words. */
const ENDINGS = [/[\s_,;:/.-]([^\s_,;:.-]+)\s*$/u, /[\s_,;:.-]([^\s_,;:.-]+[\s_-][^\s_,;:.-]+)\s*$/u];

/** No unit is longer; only so much of a name's end is looked at. */
const LONGEST_ENDING = 48;

/** The unit a name carries in brackets: its text, whatever it is. */
export const bracketedTexts = (name: string): string[] =>
  [...name.matchAll(BRACKETED)].flatMap((match) => (match[2] === undefined ? [] : match[1].trim())).reverse();

function endingOf(name: string, pattern: RegExp): { readonly text: string; readonly at: number } | undefined {
  const from = Math.max(0, name.length - LONGEST_ENDING);
  const match = pattern.exec(name.slice(from));
  return match ? { text: match[1], at: from + match.index } : undefined;
}

const endings = (name: string): string[] => ENDINGS.flatMap((pattern) => endingOf(name, pattern)?.text ?? []);

/** Where the words of a name part. Letters of all scripts take Node a while to list, be they looked for or not, and most names hold those of ASCII only. */
const parting = () => ({ humps: /(\p{Ll})(\p{Lu})/gu, between: /[^\p{L}\p{N}]+/u });
const ASCII_PARTING = { humps: /([a-z])([A-Z])/g, between: /[^a-z0-9]+/ };
const BEYOND_ASCII = /[^ -~]/;

/** Words of a name: `MAP_kPa abs` → map, kpa, abs. */
export function wordsOf(name: string): string[] {
  const { humps, between } = BEYOND_ASCII.test(name) ? parting() : ASCII_PARTING;
  return name
    .replace(humps, '$1 $2')
    .toLowerCase()
    .split(between)
    .filter((word) => word !== '');
}

/** A whole name of at least this length may itself be the unit: `RPM`, `MPH`, `psi`. */
const WHOLE_NAME_LEAST = 3;

/** A mixture's name often is its unit: `AFR 1`, `Lambda`, `Wideband AFR`. */
function mixtureWord(name: string): string | undefined {
  return wordsOf(name).find((word) => ['afr', 'lambda', 'λ', 'phi'].includes(word));
}

export interface HeaderUnit {
  readonly unit: RecognisedUnit;
  /** The text it was read from. */
  readonly text: string;
}

/**
 * The unit of a column from its header: the units row first, then brackets in the name, then the end of the name. `wrong` where the
 * header names a unit that the channel cannot have, such as volts for a pressure.
 */
export function headerUnit(
  id: ChannelId,
  column: Pick<Column, 'name' | 'unitText'>,
): HeaderUnit | { readonly wrong: string } | undefined {
  let wrong: string | undefined;
  for (const text of [
    column.unitText ?? '',
    ...bracketedTexts(column.unitText ?? ''),
    ...bracketedTexts(column.name),
  ]) {
    const unit = text === '' ? undefined : unitOn(id, text);
    if (unit === 'wrong') wrong ??= text;
    else if (unit) return { unit, text };
  }
  const ends = endings(column.name);
  if (column.name.trim().length >= WHOLE_NAME_LEAST) ends.push(column.name);
  if (dimensionOfChannel(id) === 'mixture') ends.push(mixtureWord(column.name) ?? '');
  for (const text of ends) {
    const unit = text === '' ? undefined : unitOn(id, text);
    if (unit && unit !== 'wrong' && dimensionOfChannel(id) !== 'count') return { unit, text };
  }
  return wrong === undefined ? undefined : { wrong };
}

const ABSOLUTE_WORDS = ['abs', 'absolute', 'absolut', 'absolu', 'absoluta', 'absoluto', 'assoluta'];
const GAUGE_WORDS = ['gauge', 'gage', 'relative', 'relativ', 'relativa', 'überdruck'];

/** Gauge or absolute by the words of a pressure's name; boost is no such word, as controllers log it both ways. */
export function referenceByName(id: ChannelId, name: string): PressureReference | undefined {
  if (!mayBeGauge(id)) return undefined;
  const words = wordsOf(name);
  if (words.some((word) => ABSOLUTE_WORDS.includes(word))) return 'absolute';
  if (words.some((word) => GAUGE_WORDS.includes(word))) return 'gauge';
  return undefined;
}

/** A name without the unit at its end: `RPM [1/min]` → `RPM`, `MAP_kPa` → `MAP`. Needs no channel: any known unit counts. */
export function withoutUnit(name: string, isUnit: (text: string) => boolean): string {
  const bracket = lastBracket(name);
  if (bracket && (bracket.text === '' || isUnit(bracket.text))) return bracket.before;
  for (const pattern of [...ENDINGS].reverse()) {
    const found = endingOf(name, pattern);
    if (found && found.at > 0 && isUnit(found.text)) return name.slice(0, found.at);
  }
  return name;
}

/** What stands in the brackets that end a name, and the name before them. */
function lastBracket(name: string): { readonly before: string; readonly text: string } | undefined {
  const whole = name.trimEnd();
  let at = whole.length - 1;
  if (at < 0 || !'])}>'.includes(whole[at])) return undefined;
  for (at--; at >= 0 && !'[({<'.includes(whole[at]); at--) if ('])}>'.includes(whole[at])) return undefined;
  const before = whole.slice(0, Math.max(0, at)).trimEnd();
  return before === '' ? undefined : { before, text: whole.slice(at + 1, -1).trim() };
}
