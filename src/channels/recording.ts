import type { ChannelId } from './catalogue.ts';

/** One physical quantity on its own time base, in its canonical unit. Blank cells are gone; held repeats are gone. */
export interface Channel {
  readonly id: ChannelId;
  readonly column: string;
  /** Seconds since the start of the log, strictly increasing; channels of one clock share the array. */
  readonly time: Float64Array;
  /** Canonical unit of `id`, never NaN. */
  readonly values: Float64Array;
  /** True updates per second, with held repeats seen through; NaN where fewer than two updates. */
  readonly rateHz: number;
  /** Share of the log's rows with a value, 0…1. */
  readonly coverage: number;
  readonly min: number;
  readonly max: number;
  /** Smallest step between distinct values (quantisation), 0 where unknown. */
  readonly step: number;
  /** Samples outside the catalogue's plausible range (still in `values`). */
  readonly implausibleCount: number;
  readonly notes: readonly string[];
}

/** A stretch of the log without a gap or a backward step in time. Nothing is judged across its edges. */
export interface TimeSegment {
  readonly startS: number;
  readonly endS: number;
}

export type BarometricSource = 'channel' | 'engine-off manifold pressure' | 'build sheet' | 'standard atmosphere';

export interface Barometric {
  readonly kpa: number;
  readonly source: BarometricSource;
  /** One sentence for the report. */
  readonly note: string;
}

export interface Recording {
  readonly durationS: number;
  readonly rowCount: number;
  readonly segments: readonly TimeSegment[];
  readonly channels: ReadonlyMap<ChannelId, Channel>;
  readonly barometric: Barometric;
  /** Time health, unit assumptions, unmapped columns, each one sentence. */
  readonly notes: readonly string[];
}
