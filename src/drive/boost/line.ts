import { effectiveSampleSize } from '../../signal/effective-sample-size.ts';
import { median } from '../../signal/median.ts';
import { theilSen, theilSenSlope } from '../../signal/theil-sen.ts';
import { workspace } from '../../signal/working-copy.ts';

/** A straight line of gauge boost over engine speed. */
export interface StraightLine {
  readonly interceptKpa: number;
  readonly slopeKpaPerRpm: number;
}

/** A robust one, with where it lies and what is known of its slope. */
export interface BoostLine extends StraightLine {
  readonly startS: number;
  readonly endS: number;
  readonly startRpm: number;
  readonly endRpm: number;
  /** 95 % interval of the slope, widened for samples that follow their neighbours. */
  readonly slopeLow: number;
  readonly slopeHigh: number;
  readonly middleRpm: number;
  /** Half of the 95 % interval of the level at `middleRpm`, kPa. */
  readonly levelHalfKpa: number;
}

export function lineAt(line: StraightLine, rpm: number): number {
  return line.interceptKpa + line.slopeKpaPerRpm * rpm;
}

/** Half of the 95 % interval of the line at an engine speed, kPa: level and slope uncertainty in quadrature. */
export function lineHalfKpa(line: BoostLine, rpm: number): number {
  const slopeHalf = (line.slopeHigh - line.slopeLow) / 2;
  return Math.hypot(line.levelHalfKpa, slopeHalf * (rpm - line.middleRpm));
}

const changes = (rpm: Float64Array) => rpm.some((speed) => speed !== rpm[0]);

const roomForIntercepts = workspace();

/** The intercept median(boost − slope·rpm), which a spike does not lift as it lifts the medians of a sloping line, kPa. */
function interceptOf(rpm: Float64Array, boost: Float64Array, slope: number): number {
  const intercepts = roomForIntercepts(boost.length);
  for (let i = 0, end = boost.length; i < end; i++) intercepts[i] = boost[i] - slope * rpm[i];
  return median(intercepts);
}

/** The line with the Theil–Sen slope; a level where engine speed never changes. */
export function robustLine(rpm: Float64Array, boost: Float64Array): StraightLine {
  const slope = changes(rpm) ? theilSenSlope(rpm, boost) : 0;
  return { interceptKpa: interceptOf(rpm, boost, slope), slopeKpaPerRpm: slope };
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
  const fit = changes(rpm) ? theilSen(rpm, boost) : { slope: 0, slopeLow: 0, slopeHigh: 0 };
  const interceptKpa = interceptOf(rpm, boost, fit.slope);
  const residuals = boost.map((kpa, i) => kpa - interceptKpa - fit.slope * rpm[i]);
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
    interceptKpa,
    slopeKpaPerRpm: fit.slope,
    slopeLow: fit.slope - Math.max(leastHalf, widen * (fit.slope - fit.slopeLow)),
    slopeHigh: fit.slope + Math.max(leastHalf, widen * (fit.slopeHigh - fit.slope)),
    middleRpm: median(rpm),
    levelHalfKpa: (1.96 * 1.2533 * spread) / Math.sqrt(independent),
  };
}
