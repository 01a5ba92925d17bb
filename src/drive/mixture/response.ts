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
  states[0] = command[first];
  for (let k = first + 1; k < end; k++) {
    const heldS = time[k] - time[k - 1];
    const slope = (command[k] - command[k - 1]) / heldS;
    states[k - first] = follow(states[k - 1 - first], command[k - 1], slope, heldS, tauS);
  }
  return { time, command, tauS, first, states };
}

/**
 * The sensor's readings, each `deadS` behind.
 * @param at s, ascending, between the times the states were made for
 * @param readings memory for the answer, as long as `at`
 * @returns in the unit of the command
 */
export function readSensor(
  { time, command, tauS, first, states }: SensorStates,
  at: Float64Array,
  deadS: number,
  readings: Float64Array = new Float64Array(at.length),
): Float64Array {
  const last = first + states.length - 1;
  let k = Math.min(last, Math.max(first, indexAtOrAfter(time, at[0] - deadS) - 1));
  for (let i = 0; i < at.length; i++) {
    const t = at[i] - deadS;
    while (k < last && time[k + 1] <= t) k++;
    const heldS = Math.max(0, t - time[k]);
    const slope = k + 1 < time.length ? (command[k + 1] - command[k]) / (time[k + 1] - time[k]) : 0;
    readings[i] = follow(states[k - first], command[k], slope, heldS, tauS);
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
  return readSensor(sensorStates(time, command, at[0] - deadS, at[at.length - 1] - deadS, tauS), at, deadS);
}
