import type { ChannelId } from '../channels/catalogue.ts';
import type { Recording } from '../channels/recording.ts';

/** What the car was doing at a sample of the engine-speed time base. */
export const REGIMES = [
  'engine-off',
  'idle',
  'cruise',
  'transient',
  'fuel-cut',
  'pull',
  'gear-change',
  'lift',
] as const;
export type Regime = (typeof REGIMES)[number];

/** A regime's index into `REGIMES`, by which series hold it. */
export const REGIME_CODE = Object.fromEntries(REGIMES.map((regime, i) => [regime, i])) as Record<Regime, number>;

export type PullPurpose = 'boost' | 'duty' | 'timing' | 'mixture';

/** Whether a pull can serve a purpose, and if not, why not in one clause. */
export type Fitness = { readonly ok: true } | { readonly ok: false; readonly why: string };

export type PullEnd = 'lift' | 'gear-change' | 'limiter' | 'speed-stopped-rising' | 'log-end';

/** One full-load acceleration in one gear. Times in seconds since the start of the log. */
export interface Pull {
  readonly id: number;
  readonly startS: number;
  readonly endS: number;
  /** Engine speed at start and end. */
  readonly rpm: readonly [number, number];
  readonly gear: number | undefined;
  readonly endedBy: PullEnd;
  /** Long enough in time and engine speed to be judged at all. */
  readonly usable: boolean;
  readonly fitness: Readonly<Record<PullPurpose, Fitness>>;
  readonly notes: readonly string[];
}

/** Numbers on a time base. `rpm` is the engine speed at each sample. */
export interface Series {
  readonly time: Float64Array;
  readonly values: Float64Array;
  readonly rpm: Float64Array;
  /** True updates per second. */
  readonly rateHz: number;
}

/** How full load was recognised. */
export interface LoadSignal {
  readonly channel: ChannelId;
  /** At or above this the pedal (or what stands for it) counts as full. */
  readonly full: number;
  readonly note: string | undefined;
}

/** A recording plus what the car was doing. */
export interface Drive {
  readonly recording: Recording;
  /** Base time: that of engine speed. */
  readonly time: Float64Array;
  /** rpm, lone slips mended. */
  readonly engineSpeed: Float64Array;
  /** Per base sample: index into `REGIMES`. */
  readonly regime: Uint8Array;
  readonly load: LoadSignal | undefined;
  readonly pulls: readonly Pull[];
  readonly notes: readonly string[];
}
