import { UserError } from '../kernel/user-error.ts';
import type { Column } from '../read/table.ts';
import { recogniseUnit } from '../units/recognise-unit.ts';
import { bracketedTexts } from './header-unit.ts';
import type { TimeUnit } from './mapping-schema.ts';
import { shownColumn } from './personal-column.ts';

/** How a time column counts. */
export interface Clock {
  readonly unit: TimeUnit;
  readonly notes: readonly string[];
}

export const SECONDS_PER: Record<TimeUnit, number> = {
  s: 1,
  ms: 1 / 1000,
  us: 1 / 1e6,
  min: 60,
  clock: 1,
  iso8601: 1,
  epoch_s: 1,
  epoch_ms: 1 / 1000,
};

const DAY_S = 86400;

const FORM: Record<Column['kind'], string> = {
  number: 'numbers',
  clock: 'hh:mm:ss',
  timestamp: 'date and time',
  text: 'text',
};

/** The unit a time column's header names. */
export function timeUnitInHeader(column: Column): TimeUnit | undefined {
  const ends = /[\s_]([^\s_]+)\s*$/u.exec(column.name)?.[1];
  for (const text of [column.unitText ?? '', ...bracketedTexts(column.name), ends ?? '']) {
    const unit = text === '' ? undefined : recogniseUnit(text)?.unit;
    if (unit === 's' || unit === 'ms' || unit === 'us' || unit === 'min') return unit;
  }
  return undefined;
}

/** The unit of a time column: what the mapping says where the cells bear it out, else the header, else the form of the cells. */
export function clockOf(column: Column, stated: TimeUnit | undefined): Clock {
  const name = shownColumn(column.name);
  if (column.kind === 'clock' || column.kind === 'timestamp') {
    const unit = column.kind === 'clock' ? 'clock' : 'iso8601';
    const agrees = stated === undefined || stated === unit || (stated === 'clock' && unit === 'iso8601');
    const note = `The time column ${name} holds ${FORM[column.kind]}, not ${stated}; it is read as it stands.`;
    return { unit, notes: agrees ? [] : [note] };
  }
  if (stated === 'clock' || stated === 'iso8601') {
    const form = stated === 'clock' ? 'hh:mm:ss' : 'dates and times such as 2024-05-01T10:00:00';
    throw new UserError(
      `the time column ${name} holds ${FORM[column.kind]}, not ${form}.`,
      'mapping, time.unit',
      'Use "s" or "ms" for plain numbers.',
    );
  }
  if (stated !== undefined) return { unit: stated, notes: [] };
  const header = timeUnitInHeader(column);
  if (header) return { unit: header, notes: [] };
  return { unit: 's', notes: [`The time column ${name} states no unit; taken as seconds.`] };
}

/**
 * Stamps in seconds after `base` (a stamp of the same clock). A clock of the day that falls by more than half a day has
 * passed midnight.
 */
export function secondsAfter(stamps: Float64Array, base: number, unit: TimeUnit): Float64Array {
  const result = new Float64Array(stamps.length);
  const perSecond = 1 / SECONDS_PER[unit];
  let days = 0;
  for (let i = 0, n = stamps.length; i < n; i++) {
    if (unit === 'clock' && i > 0) {
      const step = stamps[i] - stamps[i - 1];
      if (step < -DAY_S / 2) days++;
      else if (step > DAY_S / 2 && days > 0) days--;
    }
    const counted = stamps[i] - base;
    result[i] = (SECONDS_PER[unit] < 1 ? counted / Math.round(perSecond) : counted * SECONDS_PER[unit]) + days * DAY_S;
  }
  return result;
}

/** Where the clock stood at the first row, for a note; nothing for a clock that starts at zero. A date is not repeated. */
export function startNote(first: number, unit: TimeUnit): string | undefined {
  const counts = 'times here count from the first row.';
  if (unit === 'iso8601' || unit === 'epoch_s' || unit === 'epoch_ms') return `The log carries dates; ${counts}`;
  if (unit === 'clock') {
    const two = (value: number) => String(Math.floor(value)).padStart(2, '0');
    return `The log’s clock starts at ${two(first / 3600)}:${two((first / 60) % 60)}:${two(first % 60)}; ${counts}`;
  }
  return first === 0 ? undefined : `The log’s clock starts at ${first} ${unit}; ${counts}`;
}
