import { formatQuantity } from '../../kernel/format-number.ts';
import { largest, smallest } from '../../signal/extremes.ts';
import { runningMedian } from '../../signal/local-level.ts';
import { median } from '../../signal/median.ts';
import { picked } from '../../signal/picked.ts';
import { rateOfChange } from '../../signal/rate-of-change.ts';
import { sampleNoise } from '../../signal/sample-noise.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { RailReference, Regulator } from './regulator.ts';
import type { Rail } from './series.ts';

/** What the rail should hold at a sample, and what that is measured from. */
export interface Expectation {
  readonly by: 'target' | 'idle differential' | 'idle rail pressure' | 'set differential' | 'set rail pressure';
  /** Actual pressure that is judged, kPa. */
  readonly actual: (i: number) => number;
  /** What it should be, kPa. */
  readonly expected: (i: number) => number;
  readonly note: string;
}

/** Fall of fuel pressure in one pull. */
export interface RailDrop {
  readonly pull: Pull;
  /** Largest held fall, % of what should be there; negative where pressure is above. */
  readonly value: number;
  /** Least that it fell since the pull began, % points: needs no reference but the pull's own start. */
  readonly ownLow: number;
  readonly low: number;
  readonly high: number;
  readonly atS: number;
  readonly rpm: number;
  readonly actualKpa: number;
  readonly expectedKpa: number;
  /** Pressure across the injector there, kPa; NaN without manifold pressure. */
  readonly differentialKpa: number;
  /** Change of the fall per 1,000 rpm, % points, with its interval; nothing where too few. */
  readonly slope: { readonly per1000: number; readonly low: number; readonly high: number } | undefined;
  /** Stretch at or beyond the mark. */
  readonly beyond:
    | { readonly startS: number; readonly endS: number; readonly rpm: readonly [number, number] }
    | undefined;
  /** Seconds after the pull until pressure is back; nothing where it is not, or the log ends. */
  readonly recoveredAfterS: number | undefined;
  readonly updates: number;
  /** At a low rate: one reading alone beyond the mark, its neighbours are not. */
  readonly isLone: boolean;
  /** Seconds not judged because manifold pressure moved too fast for the two sensors. */
  readonly movingS: number;
}

const LEVEL_S = 0.4;
const FEWEST = 3;
const RECOVERED_PERCENT = 2.5;
const RECOVERY_WITHIN_S = 8;
/** Manifold pressure may move this share of the expected pressure within the skew of the sensors. */
const SKEW_SHARE = 0.025;

/** Regulator and sensor may lie so far from the pressure on the build sheet, %. Common practice, no source. */
const SHEET_PERCENT = 5;
/** The first of a pull, which stands for what the rail held before much fuel flowed, s. */
const START_S = 1;

/** By what the rail is judged: its target, else the reference and the regulator. */
export function expectationOf(
  drive: Drive,
  rail: Rail,
  regulator: Regulator,
  reference: RailReference | undefined,
): Expectation | { readonly missing: readonly string[] } {
  const { targetKpa } = rail;
  if (targetKpa && drive.pulls.some((pull) => targetKpa[indexAtOrAfter(rail.time, pull.startS)] > 50)) {
    return {
      by: 'target',
      actual: (i) => rail.railKpa[i],
      expected: (i) => targetKpa[i],
      note: 'Judged against the logged rail pressure target.',
    };
  }
  if (rail.isDirect) return { missing: ['fuel_rail_pressure_target'] };
  if (!reference)
    return { missing: ['idle or cruise in the log', 'fuel_rail_pressure_target', 'injectors.fuelPressure'] };
  const isSet = reference.from === 'build sheet';
  const setNote = `Neither idle nor cruise is in the log: taken is the ${formatQuantity(reference.railKpa, 'kPa')} that the build sheet sets, give or take ${formatQuantity(SHEET_PERCENT, '%')} (common practice, no source).`;
  if (!rail.hasManifold) {
    if (regulator.taken !== 'fixed') return { missing: ['manifold_pressure', 'fuel_rail_pressure_target'] };
    return {
      by: isSet ? 'set rail pressure' : 'idle rail pressure',
      actual: (i) => rail.railKpa[i],
      expected: () => reference.railKpa,
      note: `Manifold pressure is not logged: rail pressure itself is held against its ${isSet ? 'set' : reference.from} level, as the regulator is fixed.${isSet ? ` ${setNote}` : ''}`,
    };
  }
  const follow = regulator.taken === 'fixed' ? 0 : 1;
  const words = {
    fixed: `a fixed regulator holds the rail, so boost takes from it`,
    'manifold-referenced': 'a manifold-referenced regulator holds it at any boost',
    'rising-rate': `a rising-rate regulator adds to it with boost; it is held against that level all the same`,
  }[regulator.taken];
  return {
    by: isSet ? 'set differential' : 'idle differential',
    actual: (i) => rail.differentialKpa[i],
    expected: (i) => reference.differentialKpa + (follow - 1) * (rail.manifoldKpa[i] - reference.manifoldKpa),
    note: isSet
      ? `Pressure across the injector = rail + barometric − manifold pressure. ${setNote} Taken with it: ${words}.`
      : `Pressure across the injector = rail + barometric − manifold pressure. At ${reference.from} it is ${formatQuantity(reference.differentialKpa, 'kPa')}; ${words}.`,
  };
}

/** Median of the first second, of three readings at least. */
function startLevel(time: Float64Array, values: Float64Array): number {
  return median(values.subarray(0, Math.max(FEWEST, indexAtOrAfter(time, time[0] + START_S))));
}

/** The largest fall that lasted in one pull. */
export function railDrop(
  rail: Rail,
  pull: Pull,
  by: Expectation,
  mark: number,
  nextStartS: number,
): RailDrop | undefined {
  const from = indexAtOrAfter(rail.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(rail.time, pull.endS + 1e-9);
  const isSet = by.by === 'set differential' || by.by === 'set rail pressure';
  // A rail that starts a pull above what the sheet sets has its own start to hold, or a fall down to the sheet's level would pass.
  let lift = 1;
  const percentAt = (i: number) => 100 * (1 - by.actual(i) / (by.expected(i) * lift));
  const moves =
    by.by === 'idle differential' || by.by === 'set differential'
      ? rateOfChange(rail.time.subarray(from, to), rail.manifoldKpa.subarray(from, to), 0.15)
      : undefined;
  const judged: number[] = [];
  let moving = 0;
  for (let i = from; i < to; i++) {
    if (!Number.isFinite(percentAt(i)) || !(by.expected(i) > 0)) continue;
    if (moves && Math.abs(moves[i - from]) * rail.skewS > SKEW_SHARE * by.expected(i)) moving++;
    else judged.push(i);
  }
  if (judged.length < FEWEST) return undefined;
  const time = picked(rail.time, judged);
  const rpm = picked(rail.rpm, judged);
  const drops = () => new Float64Array(judged.map(percentAt));
  if (isSet) lift = Math.max(1, 1 - startLevel(time, drops()) / 100);
  const drop = drops();
  const level = rail.rateHz >= 5 ? runningMedian(time, drop, LEVEL_S) : drop;
  let top = 0;
  for (let k = 1, n = level.length; k < n; k++) if (level[k] > level[top]) top = k;
  const i = judged[top];
  const expectedKpa = by.expected(i) * lift;
  const samples = rail.rateHz >= 5 ? Math.max(1, LEVEL_S * rail.rateHz) : 1;
  const half = (1.96 * 1.25 * sampleNoise(drop)) / Math.sqrt(samples) + (100 * rail.halfStepKpa) / expectedKpa;
  const aside = half + (isSet ? SHEET_PERCENT : 0);
  const first = level.findIndex((percent) => percent >= mark);
  const last = level.findLastIndex((percent) => percent >= mark);
  const spread = largest(rpm) - smallest(rpm);
  const line = drop.length >= 8 && spread > 500 ? theilSen(rpm, drop) : undefined;
  let recoveredAfterS: number | undefined;
  for (let k = to, n = rail.time.length; k < n; k++) {
    const waited = rail.time[k] - pull.endS;
    if (waited > RECOVERY_WITHIN_S || rail.time[k] >= nextStartS) break;
    if (percentAt(k) > RECOVERED_PERCENT) continue;
    recoveredAfterS = waited;
    break;
  }
  return {
    pull,
    value: level[top],
    low: level[top] - aside,
    high: level[top] + aside,
    ownLow: level[top] - startLevel(time, drop) - 1.5 * half,
    atS: time[top],
    rpm: rpm[top],
    actualKpa: expectedKpa * (1 - level[top] / 100),
    expectedKpa,
    differentialKpa: rail.differentialKpa[i],
    slope: line && { per1000: 1000 * line.slope, low: 1000 * line.slopeLow, high: 1000 * line.slopeHigh },
    beyond: first < 0 ? undefined : { startS: time[first], endS: time[last], rpm: [rpm[first], rpm[last]] },
    recoveredAfterS,
    updates: to - from,
    isLone: rail.rateHz < 5 && !(level[top - 1] >= mark) && !(level[top + 1] >= mark),
    movingS: moving / rail.rateHz,
  };
}
