import type { Recording, TimeSegment } from '../channels/recording.ts';
import { alignedChannel } from './align.ts';
import type { LoadSignal } from './drive.ts';

/** A stretch of base samples (inclusive) at full load, inside one time segment. */
export interface FullLoadRun {
  readonly start: number;
  readonly end: number;
  readonly segment: TimeSegment;
}

/** A pedal that twitches for less than this is still full, s. */
const TWITCH_S = 0.25;
/** Once full, the load signal may sag this share below the mark before it counts as released. */
const SAG = 0.08;

/** Where the load signal stays full, with short twitches bridged. */
export function fullLoadRuns(recording: Recording, load: LoadSignal, time: Float64Array): FullLoadRun[] {
  const level = alignedChannel(recording, load.channel, time);
  if (!level) return [];
  const runs: FullLoadRun[] = [];
  const released = load.full * (1 - SAG);
  for (const segment of recording.segments) {
    let start = -1;
    let lastFull = -1;
    for (let i = 0, n = time.length; i < n; i++) {
      if (time[i] < segment.startS - 1e-9) continue;
      if (time[i] > segment.endS + 1e-9) break;
      const full = level[i] >= (start < 0 ? load.full : released);
      if (full) {
        if (start < 0) start = i;
        lastFull = i;
      } else if (start >= 0 && time[i] - time[lastFull] > TWITCH_S) {
        runs.push({ start, end: lastFull, segment });
        start = -1;
      }
    }
    if (start >= 0) runs.push({ start, end: lastFull, segment });
  }
  return runs.filter((run) => run.end > run.start);
}
