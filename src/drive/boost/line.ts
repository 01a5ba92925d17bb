import { effectiveSampleSize } from '../../signal/effective-sample-size.ts';
import { median } from '../../signal/median.ts';
import { theilSen } from '../../signal/theil-sen.ts';

/** A robust straight line of gauge boost over engine speed, with what is known of its slope. */
export interface BoostLine {
  readonly startS: number;
  readonly endS: number;
  readonly startRpm: number;
  readonly endRpm: number;
  readonly interceptKpa: number;
  readonly slopeKpaPerRpm: number;
  /** 95 % interval of the slope, widened for samples that follow their neighbours. */
  readonly slopeLow: number;
  readonly slopeHigh: number;
  readonly middleRpm: number;
  /** Half of the 95 % interval of the level at `middleRpm`, kPa. */
  readonly levelHalfKpa: number;
}

export function lineAt(line: BoostLine, rpm: number): number {
  return line.interceptKpa + line.slopeKpaPerRpm * rpm;
}

/** Half of the 95 % interval of the line at an engine speed, kPa: level and slope uncertainty in quadrature. */
export function lineHalfKpa(line: BoostLine, rpm: number): number {
  const slopeHalf = (line.slopeHigh - line.slopeLow) / 2;
  return Math.hypot(line.levelHalfKpa, slopeHalf * (rpm - line.middleRpm));
}

/**
 * Theil–Sen slope with the intercept median(boost − slope·rpm), which a spike does not lift as it lifts the medians of
 * a sloping line; a level where engine speed never changes.
 */
export function robustLine(rpm: Float64Array, boost: Float64Array): ReturnType<typeof theilSen> {
  const changes = rpm.some((speed) => speed !== rpm[0]);
  if (!changes) return { slope: 0, intercept: median(boost), slopeLow: 0, slopeHigh: 0, n: rpm.length };
  const fit = theilSen(rpm, boost);
  return { ...fit, intercept: median(boost.map((kpa, i) => kpa - fit.slope * rpm[i])) };
}

/** With fewer points the widest that Sen's interval can be holds less than 95 %: 1 − 2/n!, which is 92 % for four and 67 % for three. */
const FEWEST_FOR_SEN = 5;

/** Half of the 95 % interval that sensor noise alone gives a least-squares slope, kPa/rpm: 1.96·σ/√Σ(rpm − mean)². */
function noiseSlopeHalf(rpm: Float64Array, noiseKpa: number): number {
  const mean = rpm.reduce((sum, speed) => sum + speed, 0) / rpm.length;
  const squares = rpm.reduce((sum, speed) => sum + (speed - mean) ** 2, 0);
  return squares > 0 ? (1.96 * noiseKpa) / Math.sqrt(squares) : 0;
}

/** Theil–Sen line over engine speed with Sen's interval; both intervals are widened by √(n / effective n), brief excursions left aside. */
export function fitBoostLine(time: Float64Array, rpm: Float64Array, boost: Float64Array, noiseKpa: number): BoostLine {
  const n = boost.length;
  const fit = robustLine(rpm, boost);
  const residuals = boost.map((kpa, i) => kpa - fit.intercept - fit.slope * rpm[i]);
  const spread = Math.max(noiseKpa, 1.4826 * median(residuals.map(Math.abs)));
  const quiet = residuals.filter((r) => Math.abs(r) < 3 * spread);
  const independent = quiet.length > 3 ? Math.max(2, effectiveSampleSize(quiet)) : n;
  const widen = Math.max(1, Math.sqrt(quiet.length / independent));
  const leastHalf = n < FEWEST_FOR_SEN ? noiseSlopeHalf(rpm, noiseKpa) : 0;
  return {
    startS: time[0],
    endS: time[n - 1],
    startRpm: rpm[0],
    endRpm: rpm[n - 1],
    interceptKpa: fit.intercept,
    slopeKpaPerRpm: fit.slope,
    slopeLow: fit.slope - Math.max(leastHalf, widen * (fit.slope - fit.slopeLow)),
    slopeHigh: fit.slope + Math.max(leastHalf, widen * (fit.slopeHigh - fit.slope)),
    middleRpm: median(rpm),
    levelHalfKpa: (1.96 * 1.2533 * spread) / Math.sqrt(independent),
  };
}
