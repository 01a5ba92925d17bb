import type { ChannelId } from '../channels/catalogue.ts';
import { channelSeries } from './channel-series.ts';
import type { Drive, Pull, Series } from './drive.ts';

/** What rounding may move a time at the edge of a stretch. */
const EDGE_S = 1e-9;

/** First index whose time is at or after `atS`, by bisection; `time.length` where there is none. */
export function indexAtOrAfter(time: Float64Array, atS: number): number {
  let low = 0;
  let high = time.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (time[middle] < atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Indexes of the samples inside [startS, endS]. */
export function indexesWithin(time: Float64Array, startS: number, endS: number): number[] {
  const indexes: number[] = [];
  for (let i = indexAtOrAfter(time, startS - EDGE_S); time[i] < endS + EDGE_S; i++) indexes.push(i);
  return indexes;
}

/** The part of a series inside [startS, endS], as views on the same memory. */
export function cutSeries(series: Series, startS: number, endS: number): Series {
  const from = indexAtOrAfter(series.time, startS - EDGE_S);
  const to = indexAtOrAfter(series.time, endS + EDGE_S);
  return {
    time: series.time.subarray(from, to),
    values: series.values.subarray(from, to),
    rpm: series.rpm.subarray(from, to),
    rateHz: series.rateHz,
  };
}

/** A channel's own samples within a pull, with the engine speed at each. */
export function pullSeries(drive: Drive, pull: Pull, id: ChannelId): Series | undefined {
  const series = channelSeries(drive, id);
  return series && cutSeries(series, pull.startS, pull.endS);
}
