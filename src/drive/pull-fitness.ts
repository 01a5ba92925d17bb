import type { Build } from '../build-sheet/build.ts';
import type { ChannelId } from '../channels/catalogue.ts';
import type { Recording } from '../channels/recording.ts';
import type { Fitness, Pull, PullPurpose } from './drive.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** A stretch shorter than this in time or engine speed says nothing about full load. Common practice, no source. */
export const SHORTEST_S = 1.5;
export const NARROWEST_RPM = 900;

/** Channels that serve each purpose; any one will do. */
const SERVES: Record<PullPurpose, readonly ChannelId[]> = {
  boost: ['manifold_pressure'],
  duty: ['injector_pulse_width', 'injector_duty', 'mass_air_flow', 'manifold_pressure'],
  timing: [
    'knock_retard',
    ...Array.from({ length: 12 }, (_, i) => `knock_retard_${i + 1}` as ChannelId),
    'spark_advance',
  ],
  mixture: ['lambda'],
};

const FEWEST_UPDATES: Record<PullPurpose, number> = { boost: 6, duty: 3, timing: 4, mixture: 4 };

const OK: Fitness = { ok: true };
const unfit = (why: string): Fitness => ({ ok: false, why });

type Stretch = Pick<Pull, 'startS' | 'endS' | 'rpm'>;

/** Why a stretch is too short to be judged, or nothing. */
export function tooShort(pull: Stretch): string | undefined {
  const seconds = pull.endS - pull.startS;
  const rise = pull.rpm[1] - pull.rpm[0];
  if (seconds < SHORTEST_S) return `it lasts ${seconds.toFixed(1)} s, and ${SHORTEST_S} s are needed`;
  if (rise < NARROWEST_RPM) return `it spans ${Math.round(rise)} rpm, and ${NARROWEST_RPM} rpm are needed`;
  return undefined;
}

function fitnessFor(purpose: PullPurpose, recording: Recording, pull: Stretch): Fitness {
  const short = tooShort(pull);
  if (short) return unfit(short);
  let most = -1;
  for (const id of SERVES[purpose]) {
    const channel = recording.channels.get(id);
    if (!channel) continue;
    const count = indexAtOrAfter(channel.time, pull.endS + 1e-9) - indexAtOrAfter(channel.time, pull.startS - 1e-9);
    most = Math.max(most, count);
  }
  if (most < 0) return unfit(`no channel for it is logged (${SERVES[purpose].slice(0, 2).join(' or ')})`);
  if (most < FEWEST_UPDATES[purpose]) {
    return unfit(`the log has ${most} update${most === 1 ? '' : 's'} in it, and ${FEWEST_UPDATES[purpose]} are needed`);
  }
  return OK;
}

export function pullFitness(recording: Recording, pull: Stretch): Pull['fitness'] {
  return {
    boost: fitnessFor('boost', recording, pull),
    duty: fitnessFor('duty', recording, pull),
    timing: fitnessFor('timing', recording, pull),
    mixture: fitnessFor('mixture', recording, pull),
  };
}

/** Notes on what a pull's place in the speed range leaves open. */
export function reachNotes(build: Build, pull: Stretch): string[] {
  const { redlineRpm } = build.engine;
  const notes: string[] = [];
  if (pull.rpm[1] < 0.9 * redlineRpm) {
    notes.push(
      `Ends at ${Math.round(pull.rpm[1])} rpm, short of the ${redlineRpm} rpm redline: the top of the range was not driven.`,
    );
  }
  if (pull.rpm[0] > 0.6 * redlineRpm) {
    notes.push(`Begins at ${Math.round(pull.rpm[0])} rpm: spool and torque peak were not driven.`);
  }
  return notes;
}
