import type { Column } from '../read/table.ts';
import type { PressureReference, RecognisedUnit } from '../units/recognise-unit.ts';
import type { ChannelId } from './catalogue.ts';
import { dimensionOfChannel, mayBeGauge, unitOn } from './channel-kind.ts';

const BRACKETED = /[[({<]([^\])}>]*)[\])}>]/g;
/** `_kPa`, ` km/h`, `-rpm`, `, V` at the end of a name, one or two words. */
const ENDINGS = [/[\s_,;:/.-]([^\s_,;:.-]+)\s*$/u, /[\s_,;:.-]([^\s_,;:.-]+[\s_-][^\s_,;:.-]+)\s*$/u];

/** The unit a name carries in brackets: its text, whatever it is. */
export const bracketedTexts = (name: string): string[] =>
  [...name.matchAll(BRACKETED)].map((match) => match[1].trim()).reverse();

const endings = (name: string): string[] => ENDINGS.flatMap((pattern) => pattern.exec(name)?.[1] ?? []);

/** Words of a name: `MAP_kPa abs` → map, kpa, abs. */
export const wordsOf = (name: string): string[] =>
  name
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');

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
  const open = /^(.*\S)\s*[[({<]([^\])}>]*)[\])}>]\s*$/u.exec(name);
  if (open && (open[2].trim() === '' || isUnit(open[2].trim()))) return open[1];
  for (const pattern of [...ENDINGS].reverse()) {
    const match = pattern.exec(name);
    if (match && match.index > 0 && isUnit(match[1])) return name.slice(0, match.index);
  }
  return name;
}
