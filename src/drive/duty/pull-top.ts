import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';

/** Engine speed that a pull really reached, rpm: the last logged sample is seldom the very top. */
export interface PullTop {
  readonly rpm: number;
  readonly low: number;
  readonly high: number;
  /** Engine speed's rise near the end, rpm per s. */
  readonly rise: number;
}

/** Engine speed's rise over the last second or so of the pull, rpm per s, never negative. */
function riseNearEnd(time: Float64Array, rpm: Float64Array, pull: Pull): number {
  const spanS = pull.endS - pull.startS;
  const first = indexAtOrAfter(time, pull.endS - Math.max(1, Math.min(2, spanS / 2)) - 1e-9);
  const last = indexAtOrAfter(time, pull.endS + 1e-9) - 1;
  if (last <= first) return spanS > 0 ? Math.max(0, (pull.rpm[1] - pull.rpm[0]) / spanS) : 0;
  return Math.max(0, (rpm[last] - rpm[first]) / (time[last] - time[first]));
}

/**
 * Where the rising line before the end of a pull meets the falling line behind it, between the last sample of the pull and the next one.
 * At 1 Hz that is up to a second of engine speed that no row of the log holds.
 */
export function pullTop(drive: Drive, pull: Pull): PullTop {
  const { time, engineSpeed: rpm } = drive;
  const { segments } = drive.recording;
  const rise = riseNearEnd(time, rpm, pull);
  const atEnd = indexAtOrAfter(time, pull.endS + 1e-9) - 1;
  const last = atEnd >= 0 ? rpm[atEnd] : pull.rpm[1];
  const plain = { rpm: last, low: last, high: last, rise };
  const next = atEnd + 1;
  const inOnePiece =
    next + 1 < time.length && segments.some((s) => pull.endS >= s.startS - 1e-9 && time[next + 1] <= s.endS + 1e-9);
  if (!inOnePiece || pull.endedBy === 'limiter' || pull.endedBy === 'speed-stopped-rising') return plain;
  const gapS = time[next] - pull.endS;
  if (gapS > 1.5) return plain;
  const low = Math.max(last, Math.min(rpm[next], last + rise * gapS));
  const high = Math.max(low, last + rise * gapS);
  const fall = (rpm[next + 1] - rpm[next]) / (time[next + 1] - time[next]);
  if (fall >= 0 || rise <= 0) return { ...plain, low, high, rpm: low };
  const meetS = (rpm[next] - fall * gapS - last) / (rise - fall);
  return { rpm: Math.min(high, Math.max(low, last + rise * Math.max(0, meetS))), low, high, rise };
}
