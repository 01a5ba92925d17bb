/** Finest step of the integration, s. */
const STEP_S = 0.02;

/** Straight line between samples; the end values beyond them. `from` is a hint that only moves forward. */
function commandReader(time: Float64Array, values: Float64Array): (t: number) => number {
  let k = 0;
  return (t) => {
    while (k > 0 && time[k] > t) k--;
    while (k + 1 < time.length && time[k + 1] <= t) k++;
    if (t <= time[0] || k + 1 >= time.length) return t <= time[0] ? values[0] : values[k];
    return values[k] + ((t - time[k]) / (time[k + 1] - time[k])) * (values[k + 1] - values[k]);
  };
}

/**
 * What a sensor behind a transport delay and a first-order lag shows of a command: y' = (u(t − dead) − y)/τ.
 * @param time s, strictly increasing, at least one sample
 * @param values of the command, any unit, same length
 * @param at s, ascending, at which the sensor is read
 * @param deadS transport delay, s
 * @param tauS time constant, s; 0 for none
 * @returns in the unit of `values`. Cost O(span of `at` / 0.02 s).
 */
export function laggedResponse(
  time: Float64Array,
  values: Float64Array,
  at: Float64Array,
  deadS: number,
  tauS: number,
): Float64Array {
  const command = commandReader(time, values);
  const response = new Float64Array(at.length);
  if (at.length === 0) return response;
  let t = at[0] - 6 * tauS;
  let state = command(t - deadS);
  for (let i = 0; i < at.length; i++) {
    if (tauS <= 0) {
      response[i] = command(at[i] - deadS);
      continue;
    }
    const steps = Math.max(0, Math.ceil((at[i] - t) / Math.min(STEP_S, tauS / 2) - 1e-9));
    const stepS = steps > 0 ? (at[i] - t) / steps : 0;
    const share = 1 - Math.exp(-stepS / tauS);
    for (let s = 0; s < steps; s++) {
      t += stepS;
      state += (command(t - stepS / 2 - deadS) - state) * share;
    }
    t = at[i];
    response[i] = state;
  }
  return response;
}
