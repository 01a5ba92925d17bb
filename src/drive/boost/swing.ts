import { median } from '../../signal/median.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import { turningPointLegs } from '../../signal/turning-points.ts';

/** Boost swinging about its line. */
export interface Swing {
  readonly periodS: number;
  /** Top to bottom at the end of what was seen, kPa. */
  readonly lastSwingKpa: number;
  readonly firstSwingKpa: number;
  /** Damping ratio from the shrinking of successive swings: δ/√(π² + δ²), δ = ln(swing ratio per half period). */
  readonly dampingRatio: number;
  /** Whether it went on to the end without dying away. */
  readonly lasting: boolean;
}

/** A swing that keeps more than this of its size from half period to half period does not die away. */
const KEEPS = 0.85;

/**
 * Oscillation in departures from a line: turning points at least `reversalKpa` apart. Brief spikes are not taken for
 * it: a swing spends its time away from the line, a spike does not.
 */
export function findSwing(
  time: readonly number[],
  departKpa: readonly number[],
  reversalKpa: number,
): Swing | undefined {
  const legs = turningPointLegs(departKpa, 0, departKpa.length - 1, reversalKpa);
  if (legs.length < 3) return undefined;
  const sizes = legs.map((leg) => Math.abs(departKpa[leg.end] - departKpa[leg.start]));
  const inner = legs.slice(1, -1);
  const halfPeriods = (inner.length > 0 ? inner : legs).map((leg) => time[leg.end] - time[leg.start]);
  const periodS = 2 * median(halfPeriods);
  if (robustSpread(departKpa) < 0.15 * median(sizes)) return undefined;
  const ratios = sizes.slice(1).map((size, i) => size / sizes[i]);
  const keeps = Math.exp(median(ratios.map(Math.log)));
  const decrement = Math.max(0, -Math.log(keeps));
  const lastEnd = time[legs[legs.length - 1].end];
  const half = Math.max(1, sizes.length >> 1);
  const lastSwingKpa = median(sizes.slice(-half));
  const firstSwingKpa = median(sizes.slice(0, half));
  return {
    periodS,
    lastSwingKpa,
    firstSwingKpa,
    dampingRatio: decrement / Math.hypot(Math.PI, decrement),
    lasting:
      legs.length >= 4 &&
      keeps > KEEPS &&
      lastSwingKpa > 0.6 * firstSwingKpa &&
      time[time.length - 1] - lastEnd < Math.max(periodS, 0.5),
  };
}
