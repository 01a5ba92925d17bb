import { UserError } from '../kernel/user-error.ts';
import type { Column } from '../read/table.ts';
import { median } from '../signal/median.ts';
import { recogniseUnit } from '../units/recognise-unit.ts';
import { timeUnitInHeader } from './clock.ts';
import { TIME_NAME } from './guess-terms.ts';
import { withoutUnit, wordsOf } from './header-unit.ts';
import type { TimeUnit } from './mapping-schema.ts';
import { sampleStart } from './to-canonical.ts';

export interface TimeGuess {
  readonly column: string;
  readonly unit: TimeUnit;
  readonly confidence: number;
  readonly why: string;
  /** Whether the unit was found from the values, which the report must tell. */
  readonly told: boolean;
}

const isUnit = (text: string) => recogniseUnit(text) !== undefined;

/** A name's words without its unit, in lower case with single blanks. */
export const foldedName = (name: string): string => wordsOf(withoutUnit(name.trim(), isUnit)).join(' ');

/** Forward steps of the finite stamps, and the share of steps that do not go back. */
function steps(values: Float64Array): { typical: number; forward: number } {
  const stamps = sampleStart(values);
  const ahead: number[] = [];
  let back = 0;
  for (let i = 1; i < stamps.length; i++) {
    if (stamps[i] > stamps[i - 1]) ahead.push(stamps[i] - stamps[i - 1]);
    else if (stamps[i] < stamps[i - 1]) back++;
  }
  if (ahead.length === 0) return { typical: Number.NaN, forward: 0 };
  return { typical: median(ahead), forward: 1 - back / (stamps.length - 1) };
}

/** Where the header has no unit: dates by their size, else by the step, as no useful log has rows five seconds apart. */
function unitByData(column: Column, typical: number): TimeUnit {
  const first = column.values.find(Number.isFinite) ?? 0;
  if (first > 1e12 && first < 4e12) return 'epoch_ms';
  if (first > 1e9 && first < 4e9) return 'epoch_s';
  if (typical >= 5000) return 'us';
  return typical >= 5 ? 'ms' : 's';
}

/** The column most likely to hold the time. None is a UserError that says how to name it. */
export function guessTime(columns: readonly Column[]): TimeGuess {
  const guesses = columns.flatMap((column, index): TimeGuess[] => {
    if (column.kind === 'text') return [];
    const { typical, forward } = steps(column.values);
    if (!(forward > 0.95)) return [];
    const named = TIME_NAME.test(foldedName(column.name));
    if (column.kind !== 'number') {
      const unit = column.kind === 'clock' ? 'clock' : 'iso8601';
      return [{ column: column.name, unit, confidence: named ? 0.9 : 0.8, why: 'its cells are times', told: false }];
    }
    const inHeader = timeUnitInHeader(column);
    const unit = inHeader ?? unitByData(column, typical);
    const how = inHeader ? `the header says ${unit}` : `its step of ${Number(typical.toPrecision(3))} fits ${unit}`;
    const told = inHeader === undefined;
    const why = `its name, and ${how}`;
    if (named) return [{ column: column.name, unit, confidence: 0.95, why, told }];
    if (inHeader && /time|zeit|temps|tiempo|tempo/i.test(column.name)) {
      return [{ column: column.name, unit, confidence: 0.8, why, told }];
    }
    const steady = index === 0 && forward === 1 && column.values[0] !== column.values[column.values.length - 1];
    return steady && /^$|time|index|^#$/i.test(column.name.trim())
      ? [
          {
            column: column.name,
            unit,
            confidence: 0.5,
            why: `it is the first column and only rises, and ${how}`,
            told: true,
          },
        ]
      : [];
  });
  const best = guesses.sort((a, b) => b.confidence - a.confidence)[0];
  if (!best) {
    throw new UserError(
      'no column looks like time.',
      undefined,
      'Write a mapping with "time": { "column": "…", "unit": "s" }, or { "rate": 20 } for a log without a time column.',
    );
  }
  return best;
}
