import type { Build } from '../build-sheet/build.ts';
import type { Recording } from '../channels/recording.ts';
import { turningPointLegs } from '../signal/turning-points.ts';
import type { LoadSignal, Pull, PullEnd } from './drive.ts';
import { type FullLoadRun, fullLoadRuns } from './full-load.ts';
import { readGear } from './gear.ts';
import { pullFitness, reachNotes, tooShort } from './pull-fitness.ts';

/** Shorter or flatter than this is not even listed as a pull. */
const LISTED_S = 0.8;
const LISTED_RPM = 400;
/** Engine speed has to come back by this much to end a rise, rpm; more at high speed, where sensors are noisier. */
const reversalRpm = (redlineRpm: number) => Math.max(120, 0.02 * redlineRpm);
/** Less than this far from the top is no longer rising, rpm; a plateau longer than this ends the pull, s. */
const PLATEAU_RPM = 40;
const PLATEAU_S = 0.4;

/** Where no pedal or throttle tells the lift, the pull ends this long before engine speed turns, s: the lift lies in there. */
const UNSEEN_LIFT_S = 0.3;

interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly endedBy: PullEnd;
}

/** Cuts the flat ends off a rising leg: holding at the limiter, or waiting at one speed before the rise. */
function trimmed(time: Float64Array, rpm: Float64Array, start: number, end: number): { start: number; end: number } {
  let from = start;
  let to = end;
  let reached = start;
  while (rpm[reached] < rpm[end] - PLATEAU_RPM) reached++;
  if (time[end] - time[reached] > PLATEAU_S) to = reached;
  let left = end;
  while (left > start && rpm[left] > rpm[start] + PLATEAU_RPM) left--;
  if (time[left] - time[start] > 2 * PLATEAU_S) from = left;
  return { start: from, end: to };
}

function endOf(
  run: FullLoadRun,
  nextRun: FullLoadRun | undefined,
  leg: { end: number },
  time: Float64Array,
  rpm: Float64Array,
  redlineRpm: number,
): PullEnd {
  const end = leg.end;
  const stillFull = time[run.end] - time[end] > 0.15;
  if (end >= time.length - 1 || time[end] >= run.segment.endS - 1e-9) return 'log-end';
  if (stillFull) {
    let lowest = rpm[end];
    for (let i = end; i <= run.end && time[i] - time[end] < 1.2; i++) lowest = Math.min(lowest, rpm[i]);
    if (rpm[end] - lowest > 0.12 * rpm[end]) return 'gear-change';
    return rpm[end] > 0.97 * redlineRpm ? 'limiter' : 'speed-stopped-rising';
  }
  const again = nextRun && time[nextRun.start] - time[end] < 2 && rpm[nextRun.start] < 0.92 * rpm[end];
  return again ? 'gear-change' : 'lift';
}

function stretchesIn(
  run: FullLoadRun,
  nextRun: FullLoadRun | undefined,
  time: Float64Array,
  rpm: Float64Array,
  redlineRpm: number,
  liftSeen: boolean,
): Stretch[] {
  const stretches: Stretch[] = [];
  for (const leg of turningPointLegs(rpm, run.start, run.end, reversalRpm(redlineRpm))) {
    if (!leg.rising) continue;
    const endedBy = endOf(run, nextRun, leg, time, rpm, redlineRpm);
    const { start, end: turn } = trimmed(time, rpm, leg.start, leg.end);
    let end = turn;
    while (!liftSeen && end > start && time[turn] - time[end] < UNSEEN_LIFT_S) end--;
    if (time[end] - time[start] < LISTED_S || rpm[end] - rpm[start] < LISTED_RPM) continue;
    stretches.push({ start, end, endedBy });
  }
  return stretches;
}

/** Full-load accelerations in one gear: full pedal (or what stands for it), engine speed rising without a break. */
export function findPulls(
  recording: Recording,
  build: Build,
  load: LoadSignal,
  time: Float64Array,
  rpm: Float64Array,
): Pull[] {
  const runs = fullLoadRuns(recording, load, time);
  const liftSeen = load.channel === 'accelerator_position' || load.channel === 'throttle_position';
  const pulls: Pull[] = [];
  for (const [i, run] of runs.entries()) {
    for (const { start, end, endedBy } of stretchesIn(run, runs[i + 1], time, rpm, build.engine.redlineRpm, liftSeen)) {
      const where = { startS: time[start], endS: time[end], rpm: [rpm[start], rpm[end]] as const };
      const { gear, note } = readGear(recording, build, time, rpm, start, end);
      const short = tooShort(where);
      const notes = [short && `Not judged: ${short}.`, note].filter((text) => text !== undefined);
      pulls.push({
        id: pulls.length + 1,
        ...where,
        gear,
        endedBy,
        usable: short === undefined,
        fitness: pullFitness(recording, where),
        notes: short ? notes : [...notes, ...reachNotes(build, where)],
      });
    }
  }
  return pulls;
}
