import { readSensor, type SensorStates, sensorStates } from './response.ts';

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

/** A try is held against every so many-th sample first. */
const FEW_OF = 4;

/** What was measured around a step, less its mean. */
interface Answer {
  /** s */
  readonly at: Float64Array;
  readonly centred: Float64Array;
  /** Memory for what a try makes of it. */
  readonly model: Float64Array;
  readonly sumOfSquares: number;
}

function answerOf(at: Float64Array, measured: Float64Array): Answer {
  const mean = measured.reduce((sum, y) => sum + y, 0) / measured.length;
  const centred = measured.map((y) => y - mean);
  return { at, centred, model: new Float64Array(at.length), sumOfSquares: centred.reduce((sum, y) => sum + y * y, 0) };
}

const fewOf = (values: Float64Array) => values.filter((_, i) => i % FEW_OF === 0);

/** Least squares of centred measured = b × (model − its mean): b, and the sum of squares that is left over. */
function scaleOf({ centred, model, sumOfSquares }: Answer): { b: number; rest: number } {
  const n = model.length;
  let sum = 0;
  let squares = 0;
  let xy = 0;
  for (let i = 0; i < n; i++) {
    const x = model[i];
    sum += x;
    squares += x * x;
    xy += x * centred[i];
  }
  const xx = squares - (sum * sum) / n;
  const b = xx > 0 ? xy / xx : 0;
  return { b, rest: Math.max(0, sumOfSquares - b * xy) };
}

/** What a sensor with these states and this delay leaves over of an answer, and the factor `b` by which it has to be taken. */
function tried(states: SensorStates, deadS: number, answer: Answer): { b: number; rest: number } {
  readSensor(states, answer.at, deadS, answer.model);
  return scaleOf(answer);
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
  const all = answerOf(at, measured);
  const few = answerOf(fewOf(at), fewOf(measured));
  const longestS = DEAD_S[DEAD_S.length - 1];
  let least = WORST_REST * all.sumOfSquares;
  let best: LagFit | undefined;
  for (const tauS of TAU_S) {
    const states = sensorStates(time, command, at[0] - longestS, at[at.length - 1], tauS);
    for (const deadS of DEAD_S) {
      // All samples leave at least what few of them leave, so that most tries need no more.
      if (tried(states, deadS, few).rest > least) continue;
      const { b, rest } = tried(states, deadS, all);
      if (b < SHARE[0] || b > SHARE[1] || rest > least || (best && rest === least)) continue;
      least = rest;
      best = { deadS, tauS };
    }
  }
  return best;
}
