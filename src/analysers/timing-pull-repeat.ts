import { judge, type Limit } from '../build-sheet/limit.ts';
import { repeatedRetard } from '../drive/retard/repeat.ts';
import type { Finding, Verdict } from './finding.ts';
import { retardCauses, retardNext } from './timing-pull-causes.ts';
import {
  deg,
  detectableWords,
  eventWords,
  isInferred,
  knockEvents,
  LEAST_RATE_HZ,
  type TimingInput,
} from './timing-pull-peak.ts';
import { returningWords, sharedEvents } from './timing-pull-who.ts';
import { limitShown, limitWords, notAssessedFinding, pullNames, pullPlace, rpmWords } from './wording.ts';

export const REPEAT = 'timing-pull.repeat';

/** The same cylinder in the same engine speed band, in two pulls or more. */
export function repeatFinding(input: TimingInput, limit: Limit): Finding {
  const { drive, retard, tracks } = input;
  const pulls = retard.judgedPulls.length;
  if (pulls < 2) {
    return notAssessedFinding(
      REPEAT,
      'Repetition needs two pulls',
      `The log holds ${pulls} pull that can be judged for timing.`,
      ['Drive a second pull through the same engine speeds.'],
    );
  }
  const rateHz = Math.min(...tracks.map((track) => track.rateHz));
  const events = knockEvents(input);
  const repeat = repeatedRetard(events);
  const verdict: Verdict = repeat
    ? judge(repeat.deg, limit) === 'fail' && isInferred(repeat.events[0].track)
      ? 'warn'
      : judge(repeat.deg, limit)
    : 'pass';
  if (verdict === 'pass' || !repeat) {
    if (!(rateHz >= LEAST_RATE_HZ)) {
      return notAssessedFinding(REPEAT, 'The log is too slow to show repetition', detectableWords(tracks));
    }
    return {
      id: REPEAT,
      verdict: 'pass',
      title: repeat
        ? `Retard of ${deg(repeat.deg)} returns near ${rpmWords(repeat.rpm[0])}, below the limit`
        : 'No retard returns in the same engine speed band',
      measured: { value: repeat?.deg ?? 0, unit: 'deg' },
      limit: limitShown(limit),
      reasoning: [
        `Events of one cylinder within 250 rpm of each other, in two or more of ${pulls} pulls (${limitWords(limit)}).`,
      ],
      where: [],
      detectable: detectableWords(tracks),
      causes: [],
      next: [],
    };
  }
  const first = repeat.events[0];
  const evidence = {
    drive,
    event: first,
    events: events.filter((e) => e.track === first.track || e.peakDeg >= repeat.deg),
    repeat,
    trackedCylinders: tracks.filter((track) => track.basis === 'cylinder').length,
  };
  const shared = sharedEvents(events);
  const reached = repeat.events.filter(({ peakDeg }) => peakDeg >= repeat.deg);
  return {
    id: REPEAT,
    verdict,
    title: `${returningWords(repeat, events, input.cylinders)} near ${rpmWords(repeat.rpm[0])} in ${pullNames(reached.map(({ pull }) => pull?.id ?? 0))}`,
    measured: { value: repeat.deg, unit: 'deg' },
    limit: limitShown(limit),
    reasoning: [
      ...repeat.events.map((event) =>
        eventWords(
          drive,
          event,
          shared.find((group) => group.includes(event)),
        ),
      ),
      `At least ${deg(repeat.deg)} in two of them, between ${rpmWords(repeat.rpm[0])} and ${rpmWords(repeat.rpm[1])} (${limitWords(limit)}): a pattern and no chance event.`,
    ],
    where: repeat.events.map((e) =>
      pullPlace(e.pull as NonNullable<typeof e.pull>, e.onsetS, e.endS, [e.peakRpm, e.peakRpm]),
    ),
    causes: retardCauses(evidence),
    next: retardNext(evidence, verdict === 'fail'),
  };
}
