import type { Channel } from '../channels/recording.ts';
import { loneSamples } from '../signal/lone-samples.ts';
import { runsWhere } from '../signal/runs.ts';
import { outAndBack, type Reach } from './out-and-back.ts';

/** A lone departure smaller than this is no slip; one larger than the cap is a slip even in a slow log, rpm. */
const FLOOR_RPM = 300;
const CAP_RPM = 2500;

/**
 * No engine leaves its speed like this and is back so soon. A clutch that drops pulls an engine down as quickly, but not
 * up again; a blip rises slower; a gear change does not come back. Common practice, no source.
 */
export const IMPOSSIBLE_SPEED: Reach = { step: 1500, edgeS: 0.25, longestS: 0.5, perS: 15_000 };

/** Between two moments at this speed no engine stands, however short. Common practice, no source. */
const TURNING_RPM = 1500;
const STANDING_RPM = 400;
/** Share of the redline that no engine turns. Common practice, no source. */
const BEYOND_REDLINE = 1.3;

/** Engine speeds between which an engine of this redline works, rpm. */
export function believableSpeeds(redlineRpm: number): readonly [number, number] {
  return [STANDING_RPM, BEYOND_REDLINE * redlineRpm];
}

/** Readings in which an engine that turns before and after stands still, or turns as none can, for a moment. */
function markImpossible({ time, values, min, max }: Channel, redlineRpm: number, bad: Uint8Array): void {
  const { edgeS, longestS, step, perS = 0 } = IMPOSSIBLE_SPEED;
  const [lowest, highest] = believableSpeeds(redlineRpm);
  const isJump = (i: number, k: number) =>
    Math.abs(values[k] - values[i]) >= Math.max(step, perS * Math.abs(time[k] - time[i]));
  const mark = (isOff: (i: number) => boolean, isBeside: (beside: number, off: number) => boolean) => {
    for (const { start, end } of runsWhere(values.length, isOff)) {
      if (start === 0 || end >= values.length || time[end - 1] - time[start] > longestS) continue;
      if (time[start] - time[start - 1] > edgeS || time[end] - time[end - 1] > edgeS) continue;
      if (isBeside(start - 1, start) && isBeside(end, end - 1)) bad.fill(1, start, end);
    }
  };
  if (min < lowest)
    mark(
      (i) => values[i] < lowest,
      (beside) => values[beside] >= TURNING_RPM,
    );
  if (max > highest) mark((i) => values[i] > highest, isJump);
  for (const { from, to } of outAndBack(time, values, IMPOSSIBLE_SPEED)) bad.fill(1, from, to + 1);
}

/**
 * Engine speed, rpm, with slips of sensor or logger replaced by the line between the readings beside them: lone
 * departures, and what no engine does for up to half a second.
 */
export function mendedEngineSpeed(speed: Channel, redlineRpm: number): Float64Array {
  const { time, values } = speed;
  const bad = new Uint8Array(values.length);
  for (const i of loneSamples(values, speed.rateHz, FLOOR_RPM, CAP_RPM)) bad[i] = 1;
  markImpossible(speed, redlineRpm, bad);
  if (!bad.includes(1)) return values;
  const mended = values.slice();
  for (let i = 1, n = bad.length; i < n; i++) {
    if (bad[i] === 0) continue;
    let after = i + 1;
    while (after < bad.length && bad[after] === 1) after++;
    if (after >= bad.length) break;
    const [fromS, from] = [time[i - 1], mended[i - 1]];
    const perS = (values[after] - from) / (time[after] - fromS);
    for (; i < after; i++) mended[i] = from + perS * (time[i] - fromS);
  }
  return mended;
}
