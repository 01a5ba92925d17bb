import type { Pull } from '../drive.ts';

export type TorqueRouteId = 'airflow' | 'acceleration';

/** Torque through one pull, N m. */
export interface TorqueCurve {
  readonly time: Float64Array;
  readonly rpm: Float64Array;
  readonly values: Float64Array;
}

export interface TorquePoint {
  readonly nm: number;
  readonly atS: number;
  readonly rpm: number;
}

/** What one route says of one pull. */
export interface RoutePull {
  readonly pull: Pull;
  readonly curve: TorqueCurve;
  readonly peak: TorquePoint;
  /** One standard uncertainty of the peak, as a share: inputs and noise together. */
  readonly relativeSigma: number;
}

/** One way to torque over all pulls, or what it lacks. */
export type TorqueRoute =
  | {
      readonly ok: true;
      readonly id: TorqueRouteId;
      readonly pulls: readonly RoutePull[];
      /** What it stands on, each one sentence. */
      readonly notes: readonly string[];
    }
  | { readonly ok: false; readonly id: TorqueRouteId; readonly missing: readonly string[]; readonly why: string };

/** Shorter departures of torque than half of this are no torque that a bottom end feels, but readings, s. */
export const TORQUE_HELD_S = 0.5;

/** The highest point of a curve within engine speeds; nothing where it has none there. */
export function highestPoint(
  { time, rpm, values }: TorqueCurve,
  fromRpm = Number.NEGATIVE_INFINITY,
  toRpm = Number.POSITIVE_INFINITY,
): TorquePoint | undefined {
  let top = -1;
  for (let i = 0, n = time.length; i < n; i++) {
    if (!(rpm[i] >= fromRpm && rpm[i] <= toRpm) || !Number.isFinite(values[i])) continue;
    if (top < 0 || values[i] > values[top]) top = i;
  }
  return top < 0 ? undefined : { nm: values[top], atS: time[top], rpm: rpm[top] };
}
