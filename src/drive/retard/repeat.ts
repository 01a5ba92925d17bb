import { largest, smallest } from '../../signal/extremes.ts';
import type { RetardEvent } from './classify.ts';

/** Events of one track in one band of engine speed, in two pulls or more. */
export interface RepeatedRetard {
  /** Reached or passed in at least two pulls, deg: the second highest of the pulls' highest. */
  readonly deg: number;
  readonly rpm: readonly [number, number];
  /** The highest event of each pull, by pull. */
  readonly events: readonly RetardEvent[];
}

const BAND_RPM = 250;
/** A slow log blurs where an event was, at most by as much again. */
const MOST_BLUR_RPM = 250;

function blur(event: RetardEvent): number {
  const { pull, track } = event;
  if (!pull || !(track.rateHz > 0)) return 0;
  const rise = (pull.rpm[1] - pull.rpm[0]) / Math.max(0.1, pull.endS - pull.startS);
  return Math.min(MOST_BLUR_RPM, rise / track.rateHz);
}

/** The worst repetition of knock events on one track in the same engine speed band, if there is any. */
export function repeatedRetard(events: readonly RetardEvent[]): RepeatedRetard | undefined {
  let worst: RepeatedRetard | undefined;
  for (const anchor of events) {
    const highest = new Map<number, RetardEvent>();
    for (const event of events) {
      if (!event.pull || event.track !== anchor.track) continue;
      if (Math.abs(event.peakRpm - anchor.peakRpm) > BAND_RPM + Math.max(blur(event), blur(anchor))) continue;
      const known = highest.get(event.pull.id);
      if (!known || event.peakDeg > known.peakDeg) highest.set(event.pull.id, event);
    }
    if (highest.size < 2) continue;
    const members = [...highest.values()].sort((a, b) => a.peakS - b.peakS);
    const deg = members.map((event) => event.peakDeg).sort((a, b) => b - a)[1];
    if (worst && deg <= worst.deg) continue;
    const speeds = members.map((event) => event.peakRpm);
    worst = { deg, rpm: [smallest(speeds), largest(speeds)], events: members };
  }
  return worst;
}
