import { effectiveSampleSize } from '../../signal/effective-sample-size.ts';
import { leastSquares, residualSquare } from '../../signal/least-squares.ts';
import { median } from '../../signal/median.ts';
import type { BoostBin } from './bins.ts';
import type { BoostLine } from './line.ts';

/** A settled line with the first transient still dying away on it. */
export interface DyingTransient {
  readonly line: BoostLine;
  /** Spread of the bins about line and transient, kPa. */
  readonly spreadKpa: number;
  /** Size the transient still has at a time, kPa. */
  readonly sizeAt: (timeS: number) => number;
  /** The transient itself, kPa above the line. */
  readonly transientAt: (timeS: number) => number;
  readonly periodS: number | undefined;
  readonly dampingRatio: number | undefined;
}

/** Decay rates and ringing frequencies that turbochargers and manifolds show, 1/s and rad/s. */
const DECAYS = [0.75, 1.3, 2.2, 3.6, 6];
const RINGINGS = [0, 2.2, 3, 4.2, 6, 8.5, 11];
/** The transient has to be down to this share by the end, or it cannot be told from a slope. */
const LEFT_AT_END = 0.2;

/** Steps around the best pair of the grid, shrinking. */
const FINER = [0.18, 0.09, 0.045];
/** All of the first bins count; after them, where the transient is small, every other will do. */
const DENSE_BINS = 20;
/** Ringing has two more numbers to fit with: it has to leave this much less over than a plain decay. */
const RINGING_EARNS = 0.85;

/** One pair of decay rate (1/s) and ringing (rad/s), and the mean square it leaves over, kPa². */
interface Pace {
  readonly decay: number;
  readonly ringing: number;
  readonly meanSquare: number;
}

interface Points {
  /** Seconds since the first bin. */
  readonly t: Float64Array;
  /** Engine speed, centred and scaled to about 1. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Columns 1, x, and the transient's cosine and sine part, written into `columns` (four arrays of the points' length). */
function fillColumns(columns: readonly Float64Array[], points: Points, decay: number, ringing: number): void {
  const [ones, x, cosine, sine] = columns;
  for (let i = 0, total = points.t.length; i < total; i++) {
    const size = Math.exp(-decay * points.t[i]);
    ones[i] = 1;
    x[i] = points.x[i];
    cosine[i] = ringing > 0 ? size * Math.cos(ringing * points.t[i]) : size;
    sine[i] = ringing > 0 ? size * Math.sin(ringing * points.t[i]) : 0;
  }
}

function emptyColumns(length: number): Float64Array[] {
  return Array.from({ length: 4 }, () => new Float64Array(length));
}

/** The pair of decay and ringing that leaves least over, from a grid and finer steps around its best. */
function bestPace(points: Points, seconds: number): Pace | undefined {
  const best: { plain?: Pace; ringing?: Pace } = {};
  const all = emptyColumns(points.t.length);
  const plainColumns = all.slice(0, 3);
  const attempt = (decay: number, ringing: number) => {
    if (Math.exp(-decay * seconds) > LEFT_AT_END || ringing * (seconds / (points.t.length - 1)) > 2) return;
    const kind = ringing === 0 ? 'plain' : 'ringing';
    const columns = ringing === 0 ? plainColumns : all;
    const free = points.t.length - columns.length - 2;
    if (free < 2) return;
    fillColumns(all, points, decay, ringing);
    const square = residualSquare(columns, points.y);
    if (square === undefined) return;
    const pace = { decay, ringing, meanSquare: square / free };
    if (pace.meanSquare < (best[kind]?.meanSquare ?? Number.POSITIVE_INFINITY)) best[kind] = pace;
  };
  for (const decay of DECAYS) for (const ringing of RINGINGS) attempt(decay, ringing);
  for (const step of FINER) {
    for (const { decay, ringing } of Object.values(best)) {
      attempt(decay * (1 + step), ringing);
      attempt(decay / (1 + step), ringing);
      if (ringing === 0) continue;
      attempt(decay, ringing * (1 + step));
      attempt(decay, ringing / (1 + step));
    }
  }
  const { plain, ringing } = best;
  const earned = ringing && ringing.meanSquare < RINGING_EARNS * (plain?.meanSquare ?? Number.POSITIVE_INFINITY);
  return earned ? ringing : plain;
}

/**
 * Fits boost = a + b·rpm + e^(−αt)·(c·cos ωt + d·sin ωt) to the bins since boost first came up: a straight line over
 * engine speed and a transient of first (ω = 0) or second order that dies away on it.
 */
export function fitDyingTransient(all: readonly BoostBin[]): DyingTransient | undefined {
  if (all.length < 8) return undefined;
  const bins = all.filter((_, i) => i < DENSE_BINS || (i - DENSE_BINS) % 2 === 0);
  const n = bins.length;
  const middleRpm = median(bins.map((bin) => bin.rpm));
  const spanRpm = Math.max(1, bins[n - 1].rpm - bins[0].rpm);
  const seconds = bins[n - 1].timeS - bins[0].timeS;
  const points = {
    t: Float64Array.from(bins, (bin) => bin.timeS - bins[0].timeS),
    x: Float64Array.from(bins, (bin) => (bin.rpm - middleRpm) / spanRpm),
    y: Float64Array.from(bins, (bin) => bin.boostKpa),
  };
  const pace = bestPace(points, seconds);
  if (!pace) return undefined;
  const columns = emptyColumns(n);
  fillColumns(columns, points, pace.decay, pace.ringing);
  const fit = leastSquares(pace.ringing > 0 ? columns : columns.slice(0, 3), points.y);
  if (!fit) return undefined;
  const { coefficients, inverse, residuals } = fit;
  const widen = Math.sqrt(n / Math.max(2, effectiveSampleSize(residuals)));
  const half = (k: number) => 2.1 * widen * Math.sqrt(pace.meanSquare * inverse[k][k]);
  const slope = coefficients[1] / spanRpm;
  const size = Math.hypot(coefficients[2], coefficients[3] ?? 0);
  return {
    line: {
      startS: bins[0].timeS,
      endS: bins[n - 1].timeS,
      startRpm: bins[0].rpm,
      endRpm: bins[n - 1].rpm,
      interceptKpa: coefficients[0] - slope * middleRpm,
      slopeKpaPerRpm: slope,
      slopeLow: slope - half(1) / spanRpm,
      slopeHigh: slope + half(1) / spanRpm,
      middleRpm,
      levelHalfKpa: half(0),
    },
    spreadKpa: Math.sqrt(pace.meanSquare),
    sizeAt: (timeS) => size * Math.exp(-pace.decay * (timeS - bins[0].timeS)),
    transientAt: (timeS) => {
      const t = timeS - bins[0].timeS;
      const wave = coefficients[2] * Math.cos(pace.ringing * t) + (coefficients[3] ?? 0) * Math.sin(pace.ringing * t);
      return Math.exp(-pace.decay * t) * wave;
    },
    periodS: pace.ringing > 0 ? (2 * Math.PI) / pace.ringing : undefined,
    dampingRatio: pace.ringing > 0 ? pace.decay / Math.hypot(pace.decay, pace.ringing) : undefined,
  };
}
