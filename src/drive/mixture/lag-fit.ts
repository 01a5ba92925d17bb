import { readSensor, sensorStates } from './response.ts';

/** Transport delay and time constant that carry a command onto what was measured. */
export interface LagFit {
  readonly deadS: number;
  readonly tauS: number;
}

const DEAD_S = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8];
const TAU_S = [0.02, 0.05, 0.08, 0.12, 0.16, 0.2, 0.25, 0.3, 0.4, 0.5];
/** The measured step must be this share of the asked one, else it answers to something else. */
const SHARE = [0.5, 1.6] as const;
/** What the fit leaves over, against what was there. */
const WORST_REST = 0.25;

/** Least squares of centred measured = b × (model − its mean): b, and the sum of squares that is left of `all`. */
function scaleOf(model: Float64Array, centred: Float64Array, all: number): { b: number; rest: number } {
  let sum = 0;
  for (let i = 0; i < model.length; i++) sum += model[i];
  const mean = sum / model.length;
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < model.length; i++) {
    const x = model[i] - mean;
    xx += x * x;
    xy += x * centred[i];
  }
  const b = xx > 0 ? xy / xx : 0;
  return { b, rest: Math.max(0, all - b * xy) };
}

/**
 * Lag of a measured signal behind its command around a step, by trying delays and time constants and keeping the one that
 * leaves least (cross-correlation with a first-order sensor). A constant offset and a wrong size of the answer are let go.
 * @param time s, of the command
 * @param command any unit
 * @param at s, of the measured samples around the step
 * @param measured unit of `command`
 * @returns undefined where nothing fits
 */
export function lagFromStep(
  time: Float64Array,
  command: Float64Array,
  at: Float64Array,
  measured: Float64Array,
): LagFit | undefined {
  if (at.length === 0) return undefined;
  const mean = measured.reduce((sum, y) => sum + y, 0) / measured.length;
  const centred = measured.map((y) => y - mean);
  const all = centred.reduce((sum, y) => sum + y * y, 0);
  const longestS = DEAD_S[DEAD_S.length - 1];
  let best: (LagFit & { rest: number }) | undefined;
  for (const tauS of TAU_S) {
    const states = sensorStates(time, command, at[0] - longestS, at[at.length - 1], tauS);
    for (const deadS of DEAD_S) {
      const { b, rest } = scaleOf(readSensor(states, at, deadS), centred, all);
      if (b < SHARE[0] || b > SHARE[1] || rest > WORST_REST * all) continue;
      if (!best || rest < best.rest) best = { deadS, tauS, rest };
    }
  }
  return best && { deadS: best.deadS, tauS: best.tauS };
}
