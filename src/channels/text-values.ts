import { UserError } from '../kernel/user-error.ts';
import type { ChannelId } from './catalogue.ts';
import type { CellSeries } from './cell-series.ts';
import { isStatusLike } from './channel-kind.ts';
import { isPersonalColumn, shownColumn } from './personal-column.ts';

const foldText = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');

const ON = ['on', 'yes', 'true', 'active', 'lit', 'an', 'ein', 'ja', 'oui', 'si', 'sí'];
const OFF = ['off', 'no', 'false', 'inactive', 'aus', 'nein', 'non'];

function lamp(text: string): number | undefined {
  const folded = foldText(text);
  if (ON.includes(folded)) return 1;
  return OFF.includes(folded) ? 0 : undefined;
}

const CLOSED = /clos|^cl(?![a-z])|geschlossen|ferm|cerrad|chius|fechad/i;
const OPEN = /open|^ol(?![a-z])|offen|ouvert|abiert|apert|abert/i;
const FAULT = /fault|fail|fehler|d[ée]faut|fallo|guasto|falha/i;
const DRIVING = /driv|load|decel|accel|power|cut|last|schub|charge/i;

/** Fuel system status as SAE J1979 codes: 1, 4 and 8 open loop (cold, driving conditions, fault), 2 and 16 closed loop. */
function fuelSystem(text: string): number | undefined {
  const closed = CLOSED.test(text.trim());
  if (closed === OPEN.test(text.trim())) return undefined;
  if (FAULT.test(text)) return closed ? 16 : 8;
  if (closed) return 2;
  return DRIVING.test(text) ? 4 : 1;
}

/** Neutral and park are 0, reverse is -1. */
function gear(text: string): number | undefined {
  const folded = foldText(text);
  if (['n', 'neutral', 'p', 'park', 'leerlauf'].includes(folded)) return 0;
  if (['r', 'reverse', 'rückwärts'].includes(folded)) return -1;
  const number = /^(?:gear|gang|d|m|s)?(\d{1,2})(?:st|nd|rd|th)?$/.exec(folded);
  return number ? Number(number[1]) : undefined;
}

const KNOWN: Partial<Record<ChannelId, (text: string) => number | undefined>> = {
  malfunction_lamp: lamp,
  fuel_system_status: fuelSystem,
  gear,
};

/** What the mapping's `values` say of a text: exactly, then ignoring case and spacing. */
function byMapping(values: Readonly<Record<string, number>>): (text: string) => number | undefined {
  const exact = new Map(Object.entries(values));
  const folded = new Map(Object.entries(values).map(([text, value]) => [foldText(text), value]));
  return (text) => exact.get(text) ?? exact.get(text.trim()) ?? folded.get(foldText(text));
}

/** Numbers among the words of a column of states. */
const plainNumber = (text: string) => (/^[+-]?\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : undefined);

const shown = (text: string) => `"${text.length > 24 ? `${text.slice(0, 24)}…` : text}"`;

/** Texts of a column that tells who, where or which car are never shown. */
function shownTexts(series: CellSeries, texts: readonly string[], show: (text: string, i: number) => string): string {
  return isPersonalColumn(series.column.name) ? 'not shown' : texts.map(show).join(', ');
}

function unreadNote(series: CellSeries, numbers: readonly (number | undefined)[]): string | undefined {
  const counts = new Array<number>(series.labels.length).fill(0);
  for (const code of series.codes ?? []) if (code >= 0) counts[code]++;
  const unread = series.labels.filter((_, i) => numbers[i] === undefined && counts[i] > 0);
  if (unread.length === 0) return undefined;
  const cells = counts.reduce((sum, count, i) => sum + (numbers[i] === undefined ? count : 0), 0);
  const texts = shownTexts(series, unread.slice(0, 3), shown) + (unread.length > 3 ? ', …' : '');
  return `${cells === 1 ? '1 cell holds text' : `${cells} cells hold text`} (${texts}) and ${cells === 1 ? 'is' : 'are'} left out.`;
}

/** `5.900` in a log that writes decimals with a comma: 5,900 or 5.9. */
const EITHER = /^[+-]?[1-9]\d{0,2}\.\d{3}$/;

function refuseEither({ id, labels, codes, values, column }: CellSeries): void {
  if (!codes || isStatusLike(id)) return;
  const isEither = labels.map((label) => EITHER.test(label.trim()));
  let unread = 0;
  let either = 0;
  for (let i = 0, n = codes.length; i < n; i++) {
    if (codes[i] < 0 || !Number.isNaN(values[i])) continue;
    unread++;
    if (isEither[codes[i]]) either++;
  }
  if (either === 0 || either < unread / 2) return;
  throw new UserError(
    `${either} cells of ${shownColumn(column.name)}, such as ${shown(labels[isEither.indexOf(true)])}, have a point where this log writes decimals with a comma: a thousand or a few?`,
    `mapping, channels.${id}`,
    'Export the log without thousands separators, or with one kind of decimals.',
  );
}

/** Numbers of a channel's cells: texts by the mapping's `values`, else by the common words for states; what is left is told. */
export function numbersOf(series: CellSeries): { values: Float64Array; notes: string[] } {
  const { id, source, labels, codes } = series;
  if (source.values === undefined) refuseEither(series);
  const mapped = source.values && byMapping(source.values);
  const common = KNOWN[id];
  const numbers = labels.map((label) => mapped?.(label) ?? plainNumber(label) ?? common?.(label));
  const remapped = new Map(Object.entries(source.values ?? {}).map(([text, value]) => [Number(text), value]));
  remapped.delete(Number.NaN);
  if (!codes && remapped.size === 0) return { values: series.values, notes: [] };
  const values = series.values.map((value) => remapped.get(value) ?? value);
  for (let i = 0; codes && i < codes.length; i++) if (codes[i] >= 0) values[i] = numbers[codes[i]] ?? Number.NaN;
  const guessed = labels
    .map((label, i) => ({ label, value: numbers[i] }))
    .filter(
      ({ label, value }) => value !== undefined && mapped?.(label) === undefined && plainNumber(label) === undefined,
    );
  const read = shownTexts(
    series,
    guessed.map(({ label }) => label),
    (label, i) => `${shown(label)} as ${guessed[i].value}`,
  );
  const notes = [guessed.length > 0 ? `Read from text: ${read}.` : undefined, unreadNote(series, numbers)];
  return { values, notes: notes.filter((note) => note !== undefined) };
}
