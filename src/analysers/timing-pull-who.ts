import type { RetardEvent } from '../drive/retard/classify.ts';
import { type RepeatedRetard, repeatedRetard } from '../drive/retard/repeat.ts';
import { formatQuantity } from '../kernel/format-number.ts';

const deg = (value: number) => formatQuantity(value, 'deg');

/** A cylinder counts with the one hit most from this share of its retard on. */
const SHARES_FROM = 0.75;
/** Of the same size within this, deg: as fine as retard is logged. */
const ALIKE_DEG = 0.5;

/** `"1"`, `"1 and 3"`, `"1, 2 and 4"`. */
function listed(numbers: readonly number[]): string {
  return numbers.length < 2
    ? numbers.join('')
    : `${numbers.slice(0, -1).join(', ')} and ${numbers[numbers.length - 1]}`;
}

/** Events at the same moment of the same pull: knock control retards each cylinder by itself, so they come on several tracks. */
const isTogether = (a: RetardEvent, b: RetardEvent) => a.pull === b.pull && a.onsetS <= b.endS && b.onsetS <= a.endS;

/** Events that cylinders share: the same moment, the same shape and the same height as it is written. */
export function sharedEvents(events: readonly RetardEvent[]): RetardEvent[][] {
  const groups: RetardEvent[][] = [];
  for (const event of events) {
    const group = groups.find(
      ([first]) => isTogether(first, event) && first.shape === event.shape && deg(first.peakDeg) === deg(event.peakDeg),
    );
    if (group) group.push(event);
    else groups.push([event]);
  }
  return groups;
}

const cylindersOf = (events: readonly RetardEvent[]): number[] =>
  [...new Set(events.flatMap(({ track }) => track.cylinder ?? []))].sort((a, b) => a - b);

/** `"cylinder 3"`, `"cylinders 1, 2 and 4"`, or the track's own name where it is not by cylinder. */
export function trackNames(events: readonly RetardEvent[]): string {
  const cylinders = cylindersOf(events);
  return cylinders.length < 2 ? events[0].track.label : `cylinders ${listed(cylinders)}`;
}

/** `"Cylinder 3 is"`, `"Cylinders 1 and 3 are"`, `"All cylinders are"`, and `"Timing is"` where retard is not by cylinder. */
function whoWords(cylinders: readonly number[], known: number): string {
  if (cylinders.length === 0) return 'Timing is';
  if (cylinders.length === 1) return `Cylinder ${cylinders[0]} is`;
  return cylinders.length === known ? 'All cylinders are' : `Cylinders ${listed(cylinders)} are`;
}

/**
 * Who is retarded in an event, and by how much: `"Cylinder 3 is retarded by 6.0°"`, `"All cylinders are retarded by up to 3.5°"`. `known` is how
 * many cylinders the engine has.
 */
export function retardedWords(event: RetardEvent, events: readonly RetardEvent[], known: number): string {
  const hit = events.filter(
    (other) =>
      isTogether(event, other) && other.peakDeg >= SHARES_FROM * event.peakDeg && other.peakDeg <= event.peakDeg,
  );
  const isAlike = hit.every(({ peakDeg }) => event.peakDeg - peakDeg <= ALIKE_DEG);
  return `${whoWords(cylindersOf([event, ...hit]), known)} retarded by ${isAlike ? '' : 'up to '}${deg(event.peakDeg)}`;
}

/** The same of retard that returns, with every cylinder on which as much returns: `"Cylinder 3 is retarded by 6.0° or more"`. */
export function returningWords(repeat: RepeatedRetard, events: readonly RetardEvent[], known: number): string {
  const tracks = [...new Set(events.map(({ track }) => track))];
  const hit = tracks.filter((track) => {
    const own = repeatedRetard(events.filter((event) => event.track === track));
    return own !== undefined && deg(own.deg) === deg(repeat.deg);
  });
  const cylinders = hit.flatMap(({ cylinder }) => cylinder ?? []).sort((a, b) => a - b);
  return `${whoWords(cylinders, known)} retarded by ${deg(repeat.deg)} or more`;
}
