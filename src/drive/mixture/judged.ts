import { rateOfChange } from '../../signal/rate-of-change.ts';
import type { LambdaLag } from './lag.ts';
import type { MixtureSamples } from './samples.ts';

/** The enrichment of a pull may take this long to show, s, transport aside; less where the lag is known: its own time and this. Common practice, no source. */
const ENTRY_S = 1.5;
const ENTRY_BEYOND_LAG_S = 0.5;
/** A moving target is not judged where a wrong lag could make more of it than this. */
const UNSURE = 0.012;

/** The build sheet's lambda is for full load, not for the rise to it: boost has to rise slower than this, kPa/s, for which it gets so long, s. */
const RISEN_KPA_S = 40;
const RISE_S = 3;

/** When boost had come up to `fromKpa` and its first rise was over, s; nothing where it never did, the start where no such boost is asked for. */
export function risenAt(s: MixtureSamples, startS: number, fromKpa: number): number {
  if (!Number.isFinite(fromKpa)) return startS;
  const rate = rateOfChange(s.time, s.boost, 0.2);
  const i = s.time.findIndex((_, k) => s.boost[k] >= fromKpa && Math.abs(rate[k]) < RISEN_KPA_S);
  return Math.min(startS + RISE_S, i < 0 ? Number.POSITIVE_INFINITY : s.time[i]);
}

/** Whether a reading is judged, or why not. */
export type State = 'judged' | 'entry' | 'moving' | 'cut' | 'low-boost';

/**
 * Marks what can be judged: not while fuel is cut, not below `fromKpa` (`laterKpa` once the pull is `RISE_S` old: boost that climbs to the end is judged too), not while the target moves faster than the lag is known, and
 * not before the reading first came within `met` after the start of the pull (or after such a move), for a limited time.
 */
export function statesOf(
  s: MixtureSamples,
  lag: LambdaLag,
  startS: number,
  options: {
    fromKpa: number;
    laterKpa: number;
    fromS: number;
    met: (i: number) => boolean;
    unsure: Float64Array | undefined;
  },
): State[] {
  const { fromKpa, laterKpa, fromS, met, unsure } = options;
  const settlesS = lag.deadS + 4 * lag.tauS;
  let isWaiting = true;
  const entryS = lag.from === 'assumed' ? ENTRY_S : Math.min(ENTRY_S, 4 * lag.tauS + lag.spreadS + ENTRY_BEYOND_LAG_S);
  let deadlineS = startS + lag.deadS + entryS;
  let wasLow = true;
  return Array.from(s.time, (t, i): State => {
    if (s.isCut(i)) {
      isWaiting = true;
      deadlineS = Math.max(deadlineS, t + settlesS);
      return 'cut';
    }
    if (t < fromS || (Number.isFinite(fromKpa) && !(s.boost[i] >= (t < startS + RISE_S ? fromKpa : laterKpa)))) {
      wasLow = true;
      return 'low-boost';
    }
    if (wasLow && isWaiting) deadlineS = Math.max(deadlineS, t + settlesS);
    wasLow = false;
    if (unsure && unsure[i] > UNSURE) {
      isWaiting = true;
      deadlineS = Math.max(deadlineS, t + lag.spreadS + 2 * lag.tauS);
      return 'moving';
    }
    if (isWaiting && t < deadlineS && (t < startS + lag.deadS || !met(i))) return 'entry';
    isWaiting = false;
    return 'judged';
  });
}
