import { type ChannelId, channelEntry } from '../../src/channels/catalogue.ts';
import type { Barometric, Channel, Recording, TimeSegment } from '../../src/channels/recording.ts';

export interface ChannelData {
  readonly time: ArrayLike<number>;
  readonly values: ArrayLike<number>;
  readonly rateHz?: number;
  readonly column?: string;
}

function channelFrom(id: ChannelId, data: ChannelData): Channel {
  const time = Float64Array.from(data.time);
  const values = Float64Array.from(data.values);
  if (time.length !== values.length) throw new RangeError(`${id}: ${time.length} times, ${values.length} values`);
  const span = time[time.length - 1] - time[0];
  const [low, high] = channelEntry(id).plausible;
  const distinct = [...new Set(values)].sort((a, b) => a - b);
  const steps = distinct.slice(1).map((value, i) => value - distinct[i]);
  return {
    id,
    column: data.column ?? id,
    time,
    values,
    rateHz: data.rateHz ?? (time.length > 1 ? (time.length - 1) / span : Number.NaN),
    coverage: 1,
    min: distinct[0],
    max: distinct[distinct.length - 1],
    step: steps.length > 0 ? Math.min(...steps.slice(0, 5000)) : 0,
    implausibleCount: values.filter((v) => v < low || v > high).length,
    notes: [],
  };
}

/** A recording made straight from arrays, for tests of everything above the reader. */
export function recordingFrom(parts: {
  readonly channels: Partial<Record<ChannelId, ChannelData>>;
  readonly barometricKpa?: number;
  readonly segments?: readonly TimeSegment[];
}): Recording {
  const channels = new Map<ChannelId, Channel>();
  for (const [id, data] of Object.entries(parts.channels)) {
    channels.set(id as ChannelId, channelFrom(id as ChannelId, data as ChannelData));
  }
  let endS = 0;
  let rows = 0;
  for (const channel of channels.values()) {
    endS = Math.max(endS, channel.time[channel.time.length - 1]);
    rows = Math.max(rows, channel.time.length);
  }
  const barometric: Barometric =
    parts.barometricKpa === undefined
      ? { kpa: 101.325, source: 'standard atmosphere', note: 'Standard atmosphere, 101.3 kPa.' }
      : { kpa: parts.barometricKpa, source: 'channel', note: 'As logged.' };
  return {
    durationS: endS,
    rowCount: rows,
    segments: parts.segments ?? [{ startS: 0, endS }],
    channels,
    barometric,
    notes: [],
  };
}

/** Times 0, 1/rate, … up to and including `endS`. */
export function everySample(rateHz: number, endS: number, startS = 0): Float64Array {
  const n = Math.floor((endS - startS) * rateHz + 1e-9) + 1;
  return Float64Array.from({ length: n }, (_, i) => startS + i / rateHz);
}
