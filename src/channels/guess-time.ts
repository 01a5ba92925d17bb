import type { Column } from '../read/table.ts';
import { median } from '../signal/median.ts';
import { timeUnitInHeader } from './clock.ts';
import { foldedName, isUnit } from './guess-name.ts';
import { ENGINE_RUN_TIME, TIME_NAME } from './guess-terms.ts';
import { withoutUnit } from './header-unit.ts';
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

/** Forward steps of the finite stamps, and the share of steps that do not go back. */
function steps(values: Float64Array): { typical: number; forward: number } {
  const stamps = sampleStart(values);
  const ahead: number[] = [];
  let back = 0;
  for (let i = 1, n = stamps.length; i < n; i++) {
    if (stamps[i] > stamps[i - 1]) ahead.push(stamps[i] - stamps[i - 1]);
    else if (stamps[i] < stamps[i - 1]) back++;
  }
  if (ahead.length === 0) return { typical: Number.NaN, forward: 0 };
  return { typical: median(ahead), forward: 1 - back / (stamps.length - 1) };
}

/** Rows hardly ever come faster, and no log worth judging is shorter. */
const SHORTEST_STEP_S = 0.002;
const SHORTEST_LOG_S = 20;

/** Where the header has no unit: dates by their size, else the unit that makes the step a usual one. */
function unitByData(column: Column, typical: number): TimeUnit {
  const first = column.values.find(Number.isFinite) ?? 0;
  if (first > 1e12 && first < 4e12) return 'epoch_ms';
  if (first > 1e9 && first < 4e9) return 'epoch_s';
  if (typical >= 5000) return 'us';
  if (typical >= 5) return 'ms';
  return isMinutes(column, typical) ? 'min' : 's';
}

/** Taken as seconds the rows would come faster than loggers write and be over at once; taken as minutes they do not. */
function isMinutes({ values }: Column, typical: number): boolean {
  const span = (values.findLast(Number.isFinite) ?? 0) - (values.find(Number.isFinite) ?? 0);
  return typical < SHORTEST_STEP_S && typical * 60 >= SHORTEST_STEP_S && span < SHORTEST_LOG_S && values.length > 100;
}

/** Moves hardly ever back, and does move. */
const risesMostly = (forward: number) => forward > 0.95;

interface Named {
  readonly confidence: number;
  readonly why: string;
}

function nameOf(column: Column, index: number, steady: boolean): Named | undefined {
  const folded = foldedName(column.name);
  if (TIME_NAME.test(folded)) return { confidence: 0.95, why: 'its name' };
  if (timeUnitInHeader(column) && /time|zeit|temps|tiempo|tempo|czas|tijd/i.test(column.name)) {
    return { confidence: ENGINE_RUN_TIME.test(folded) ? 0.7 : 0.8, why: 'its name' };
  }
  if (ENGINE_RUN_TIME.test(folded)) return { confidence: 0.65, why: 'its name (engine run time)' };
  if (index === 0 && steady && /^$|^column 1$|time|index|^#$/i.test(column.name.trim())) {
    return { confidence: 0.5, why: 'it is the first column and only rises' };
  }
  return undefined;
}

function guessOf(column: Column, index: number): TimeGuess[] {
  if (column.kind === 'text') return [];
  const { typical, forward } = steps(column.values);
  if (!risesMostly(forward)) return [];
  if (column.kind !== 'number') {
    const unit = column.kind === 'clock' ? 'clock' : 'iso8601';
    const confidence = TIME_NAME.test(foldedName(column.name)) ? 0.9 : 0.8;
    return [{ column: column.name, unit, confidence, why: 'its cells are times', told: false }];
  }
  const steady = forward === 1 && column.values[0] !== column.values[column.values.length - 1];
  const named = nameOf(column, index, steady);
  if (!named) return [];
  const inHeader = timeUnitInHeader(column);
  const unit = inHeader ?? unitByData(column, typical);
  const how = inHeader ? `the header says ${unit}` : `its step of ${Number(typical.toPrecision(3))} fits ${unit}`;
  const told = inHeader === undefined || named.confidence === 0.5;
  return [{ column: column.name, unit, confidence: named.confidence, why: `${named.why}, and ${how}`, told }];
}

/** The column most likely to hold the time of the whole log; undefined where none does. */
export function guessTime(columns: readonly Column[]): TimeGuess | undefined {
  return columns.flatMap(guessOf).sort((a, b) => b.confidence - a.confidence)[0];
}

const OWN_TIME =
  /^(?<before>.+\S)[\s_.:-]+(?:time|timestamp|zeit|t)$|^(?:time|timestamp|zeit|t)[\s_.:-]+(?<after>\S.*)$/i;

/** Columns that hold the time of one other column each, such as `MAP time` beside `MAP`: that column's name → the time column. */
export function ownTimeColumns(columns: readonly Column[]): Map<string, Column> {
  const byName = new Map(columns.map((column) => [foldedName(column.name), column]));
  const found = new Map<string, Column>();
  for (const column of columns) {
    const match = OWN_TIME.exec(withoutUnit(column.name.trim(), isUnit));
    const owner = byName.get(foldedName(match?.groups?.before ?? match?.groups?.after ?? ''));
    if (!owner || owner === column || column.kind === 'text') continue;
    if (risesMostly(steps(column.values).forward)) found.set(owner.name, column);
  }
  return found;
}

/** The time of the whole log where each column has its own: that of the column given. */
export function timeOfOwn(column: Column): TimeGuess {
  const [own] = guessOf({ ...column, name: 'time', unitText: unitTextOf(column) }, 0);
  if (own) return { ...own, column: column.name, why: `it is the time of one channel; ${own.why}` };
  return { column: column.name, unit: 's', confidence: 0.6, why: 'it is the time of one channel', told: true };
}

const unitTextOf = (column: Column): string | undefined => timeUnitInHeader(column) ?? column.unitText;
