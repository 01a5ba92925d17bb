import type { Channel } from '../../channels/recording.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import type { Span } from './doubt.ts';

/** A channel's readings from the start to the end of a span, both included, as a view on the same memory. */
export function readingsIn({ time, values }: Channel, { startS, endS }: Span): Float64Array {
  const from = indexAtOrAfter(time, startS);
  const to = indexAtOrAfter(time, endS);
  return values.subarray(from, time[to] === endS ? to + 1 : to);
}
