import { indexAtOrAfter } from '../pull-series.ts';

/** A sensor has settled on a command that stood still for this many time constants (to 0.25 %). */
const SETTLED_AFTER = 6;

/** What a first-order sensor shows of a command, at the command's own samples from index `first` on. */
export interface SensorStates {
  readonly time: Float64Array;
  readonly command: Float64Array;
  readonly tauS: number;
  readonly first: number;
  readonly states: Float64Array;
  /** Of the command from each sample on, per second; 0 beyond its last. */
  readonly slopes: Float64Array;
}

/**
 * What is left of the distance between sensor and command after `heldS`: the solution of y' = (u − y)/τ for a command that
 * runs straight from `u0` with `slope` per second is y = u − slope τ + (y0 − u0 + slope τ) e^(−t/τ).
 */
function follow(y0: number, u0: number, slope: number, heldS: number, tauS: number): number {
  const decay = tauS > 0 ? Math.exp(-heldS / tauS) : 0;
  const trail = slope * tauS;
  return u0 + slope * heldS - trail + (y0 - u0 + trail) * decay;
}

/**
 * Follows a command, straight between its samples and steady beyond them, with a sensor of one time constant.
 * @param time s, strictly increasing, at least one sample
 * @param command any unit, same length
 * @param fromS s, when the sensor is first asked; it counts as settled `SETTLED_AFTER` time constants earlier
 * @param toS s, when it is last asked
 * @param tauS time constant, s; 0 for none
 */
export function sensorStates(
  time: Float64Array,
  command: Float64Array,
  fromS: number,
  toS: number,
  tauS: number,
): SensorStates {
  const first = Math.max(0, indexAtOrAfter(time, fromS - SETTLED_AFTER * tauS) - 1);
  const end = Math.max(first + 1, indexAtOrAfter(time, toS));
  const states = new Float64Array(end - first);
  const slopes = new Float64Array(end - first);
  let from = time[first];
  let u = command[first];
  let y = u;
  states[0] = y;
  for (let k = first + 1; k < end; k++) {
    const heldS = time[k] - from;
    const slope = (command[k] - u) / heldS;
    y = follow(y, u, slope, heldS, tauS);
    states[k - first] = y;
    slopes[k - 1 - first] = slope;
    from = time[k];
    u = command[k];
  }
  if (end < time.length) slopes[end - 1 - first] = (command[end] - u) / (time[end] - from);
  return { time, command, tauS, first, states, slopes };
}

/**
 * The sensor's readings, each `deadS` behind.
 * @param at s, ascending, between the times the states were made for
 * @param readings memory for the answer, as long as `at`
 * @returns in the unit of the command
 */
export function readSensor(
  { time, command, tauS, first, states, slopes }: SensorStates,
  at: Float64Array,
  deadS: number,
  readings: Float64Array,
): Float64Array {
  const last = first + states.length - 1;
  let k = Math.min(last, Math.max(first, indexAtOrAfter(time, at[0] - deadS) - 1));
  for (let i = 0, n = at.length; i < n; i++) {
    const t = at[i] - deadS;
    while (k < last && time[k + 1] <= t) k++;
    const heldS = Math.max(0, t - time[k]);
    readings[i] = follow(states[k - first], command[k], slopes[k - first], heldS, tauS);
  }
  return readings;
}

/**
 * What a sensor behind a transport delay and a first-order lag shows of a command.
 * @param time s, strictly increasing, at least one sample
 * @param command any unit, same length
 * @param at s, ascending, at which the sensor is read
 * @param deadS transport delay, s
 * @param tauS time constant, s; 0 for none
 * @returns in the unit of `command`
 */
export function laggedResponse(
  time: Float64Array,
  command: Float64Array,
  at: Float64Array,
  deadS: number,
  tauS: number,
): Float64Array {
  if (at.length === 0) return new Float64Array(0);
  const states = sensorStates(time, command, at[0] - deadS, at[at.length - 1] - deadS, tauS);
  return readSensor(states, at, deadS, new Float64Array(at.length));
}
