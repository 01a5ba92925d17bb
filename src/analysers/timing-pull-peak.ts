import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import type { RetardEvent } from '../drive/retard/classify.ts';
import { repeatedRetard } from '../drive/retard/repeat.ts';
import type { Retard } from '../drive/retard/series.ts';
import type { RetardTrack } from '../drive/retard/tracks.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { retardCauses, retardNext, surroundings, surroundingsWords } from './timing-pull-causes.ts';
import { retardedWords, sharedEvents, trackNames } from './timing-pull-who.ts';
import { limitShown, limitWords, notAssessedFinding, pullPlace, rpmWords } from './wording.ts';

export const deg = (value: number) => formatQuantity(value, 'deg');
const seconds = (value: number) => formatQuantity(value, 's');

export const PEAK = 'timing-pull.peak';

/** Knock control gives retard back over seconds; below this rate a step may still come and go unseen. */
export const LEAST_RATE_HZ = 1.8;

/** How fast a controller gives retard back at most, deg per s. Common practice, no source. */
const FASTEST_OUT_DEG_PER_S = 2;

export interface TimingInput {
  readonly drive: Drive;
  readonly retard: Retard;
  /** Tracks whose sign is not in question. */
  readonly tracks: readonly RetardTrack[];
  readonly limit: Limit;
  /** Cylinders of the engine. */
  readonly cylinders: number;
}

export const isInferred = (track: RetardTrack) => track.basis === 'advance-drop';

export const knockEvents = ({ retard, tracks }: TimingInput): RetardEvent[] =>
  retard.events.filter((event) => event.kind === 'knock' && tracks.includes(event.track));

/** A lone one-sample blip, and what is only inferred from a drop of advance, warn at most. */
function verdictOf(event: RetardEvent, events: readonly RetardEvent[], limit: Limit): 'pass' | 'warn' | 'fail' {
  const verdict = judge(event.peakDeg, limit);
  const isLoneBlip = event.shape === 'blip' && events.filter((other) => other.track === event.track).length === 1;
  return verdict === 'fail' && (isLoneBlip || isInferred(event.track)) ? 'warn' : verdict;
}

const SHAPE_WORDS: Record<RetardEvent['shape'], string> = {
  'fast-in-slow-out': 'in at once and given back slowly, as knock control does',
  blip: 'a single sample, not given back slowly: a blip and not a pattern',
  'slow-in': 'built up step by step',
};

/** One event, or one that cylinders share, in a sentence. */
export function eventWords(drive: Drive, event: RetardEvent, shared: readonly RetardEvent[] = [event]): string {
  const whole = event.track.restDeg === 0 ? '' : ` (${deg(event.loggedDeg)} as logged)`;
  return `Pull ${event.pull?.id}, ${trackNames(shared)}: ${deg(event.peakDeg)}${whole} at ${rpmWords(event.peakRpm)}, ${seconds(event.peakS)}${surroundingsWords(surroundings(drive, event))}; ${SHAPE_WORDS[event.shape]}.`;
}

function sourceWords(tracks: readonly RetardTrack[]): string {
  const cylinders = tracks.filter((track) => track.basis === 'cylinder').map((track) => track.cylinder);
  if (cylinders.length > 0) return `Retard is read by cylinder (${cylinders.join(', ')}).`;
  if (tracks.some((track) => track.basis === 'global')) {
    return 'Retard is read for the engine as a whole: the log does not say which cylinder.';
  }
  return tracks.some((track) => track.basis === 'target-minus-actual')
    ? 'Retard is target minus actual advance.'
    : 'Retard is a sudden drop of advance while engine speed and load rise.';
}

/** The smallest event that would have shown, in the pulls that are judged. */
export function detectableWords(tracks: readonly RetardTrack[]): string {
  const rateHz = Math.min(...tracks.map((track) => track.rateHz));
  const threshold = Math.max(...tracks.map((track) => track.thresholdDeg));
  return `At ${formatQuantity(rateHz, 'Hz')} retard of ${deg(threshold)} or more that lasted ${seconds(1 / rateHz)} in a judged pull would have shown.`;
}

const SEVERITY = { pass: 0, warn: 1, fail: 2 } as const;

export function peakFinding(input: TimingInput): Finding {
  const { drive, retard, tracks, limit } = input;
  const events = knockEvents(input);
  const rateHz = Math.min(...tracks.map((track) => track.rateHz));
  const judged = events
    .map((event) => ({ event, verdict: verdictOf(event, events, limit) }))
    .sort((a, b) => SEVERITY[b.verdict] - SEVERITY[a.verdict] || b.event.peakDeg - a.event.peakDeg);
  const decides = judged[0];
  const pulls = retard.judgedPulls.length;
  const source = [sourceWords(tracks), ...retard.notes];
  if (!decides || decides.verdict === 'pass') {
    if (!(rateHz >= LEAST_RATE_HZ)) {
      return notAssessedFinding(
        PEAK,
        'Retard may have come and gone between updates',
        `Retard is updated ${Number.isFinite(rateHz) ? `at ${formatQuantity(rateHz, 'Hz')}` : 'too seldom'}. Knock control gives it back within seconds, so nothing seen is no answer. ${detectableWords(tracks)}`,
        ['Log retard at 4 Hz or more, with fewer other channels.'],
      );
    }
    const largest = decides?.event;
    return {
      id: PEAK,
      verdict: 'pass',
      title: largest
        ? `Largest retard ${deg(largest.peakDeg)}, ${largest.track.label}`
        : `No knock retard in ${pulls} pull${pulls === 1 ? '' : 's'}`,
      measured: { value: largest?.peakDeg ?? 0, unit: 'deg' },
      limit: limitShown(limit),
      reasoning: [
        ...source,
        largest
          ? `${events.length} small event${events.length === 1 ? '' : 's'}, none at a limit (${limitWords(limit)}). ${eventWords(drive, largest)}`
          : `No rise of ${deg(Math.max(...tracks.map((t) => t.thresholdDeg)))} or more inside the judged pulls (${limitWords(limit)}).`,
      ],
      where: largest?.pull
        ? [pullPlace(largest.pull, largest.onsetS, largest.endS, [largest.peakRpm, largest.peakRpm])]
        : [],
      detectable: detectableWords(tracks),
      causes: [],
      next: [],
    };
  }
  const { event, verdict } = decides;
  const counted = judged.filter((other) => other.verdict !== 'pass').map((other) => other.event);
  const repeat = repeatedRetard(counted);
  const cylinders = tracks.filter((track) => track.basis === 'cylinder').length;
  const evidence = { drive, event, events: counted, repeat, trackedCylinders: cylinders };
  const slack = event.track.stepDeg / 2 + 2 * event.track.noiseDeg;
  const byTime = counted.toSorted((a, b) => a.peakS - b.peakS);
  const unsure = isInferred(event.track)
    ? ' (inferred from advance)'
    : event.shape === 'blip'
      ? ' (a single blip)'
      : '';
  return {
    id: PEAK,
    verdict,
    title: `${retardedWords(event, counted, input.cylinders)} at ${rpmWords(event.peakRpm)}${unsure}`,
    measured: {
      value: event.peakDeg,
      unit: 'deg',
      low: Math.max(0, event.peakDeg - slack),
      high: event.peakDeg + slack + (rateHz > 0 ? (0.5 * FASTEST_OUT_DEG_PER_S) / rateHz : 0),
    },
    limit: limitShown(limit),
    reasoning: [
      ...source,
      `${counted.length} event${counted.length === 1 ? '' : 's'} at or above a limit (${limitWords(limit)}), out of ${events.length} in ${pulls} judged pull${pulls === 1 ? '' : 's'}.`,
      ...sharedEvents(counted)
        .slice(0, 6)
        .map((shared) => eventWords(drive, shared[0], shared)),
      ...(judge(event.peakDeg, limit) !== verdict
        ? [
            isInferred(event.track)
              ? 'A drop of advance may have other reasons than knock, so this warns and does not fail.'
              : 'One blip of a single sample is no pattern, so it warns and does not fail.',
          ]
        : []),
    ],
    where: sharedEvents(byTime).map(([e]) =>
      pullPlace(e.pull as NonNullable<typeof e.pull>, e.onsetS, e.endS, [e.peakRpm, e.peakRpm]),
    ),
    causes: retardCauses(evidence),
    next: retardNext(evidence, verdict === 'fail'),
  };
}
