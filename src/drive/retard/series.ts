import type { Build } from '../../build-sheet/build.ts';
import { oncePer } from '../../kernel/once-per.ts';
import type { Drive, Pull } from '../drive.ts';
import { classifyRise, type RetardEvent } from './classify.ts';
import { type CommonRetard, withoutCommonRetard } from './common.ts';
import { retardRises } from './events.ts';
import { advanceDropTrack } from './from-advance.ts';
import { type RetardTrack, retardTracks, type SignQuestion } from './tracks.ts';

/** All that the log shows of pulled timing. */
export interface Retard {
  readonly tracks: readonly RetardTrack[];
  readonly judgedPulls: readonly Pull[];
  readonly events: readonly RetardEvent[];
  readonly common: CommonRetard | undefined;
  readonly signs: readonly SignQuestion[];
  readonly notes: readonly string[];
}

function measure(drive: Drive, build: Build): Retard {
  const found = retardTracks(drive, build);
  const inferred = found.tracks.length === 0 ? advanceDropTrack(drive) : undefined;
  const judgedPulls = drive.pulls.filter((pull) => pull.usable && pull.fitness.timing.ok);
  const { tracks, common } = withoutCommonRetard(drive, inferred ? [inferred] : found.tracks);
  const pullEnds = judgedPulls.map((pull) => pull.endS);
  const events = tracks
    .flatMap((track) => retardRises(track, pullEnds).map((rise) => classifyRise(drive, judgedPulls, rise, tracks)))
    .sort((a, b) => a.peakS - b.peakS || (a.track.cylinder ?? 0) - (b.track.cylinder ?? 0));
  const notes = inferred
    ? [
        ...found.notes,
        'Neither a retard channel nor a target advance is logged: pulled timing is inferred from sudden drops of advance (common practice, no source), so any intervention counts and small ones stay hidden.',
      ]
    : found.notes;
  return { tracks, judgedPulls, events, common, signs: found.signs, notes };
}

const perDrive = oncePer((drive: Drive) => oncePer((build: Build) => measure(drive, build)));

/** Pulled timing of a log; worked out once for a drive and its build sheet. */
export function retardOf(drive: Drive, build: Build): Retard {
  return perDrive(drive)(build);
}
