import type { Channel } from '../channels/recording.ts';
import { loneSamples } from './duty-glitches.ts';

/** A lone departure smaller than this is no slip; one larger than the cap is a slip even in a slow log, rpm. */
const FLOOR_RPM = 300;
const CAP_RPM = 2500;

/** Engine speed, rpm, with every lone slip of sensor or logger replaced by the mean of its neighbours. */
export function mendedEngineSpeed(speed: Channel): Float64Array {
  const slips = loneSamples(speed.values, speed.rateHz, FLOOR_RPM, CAP_RPM);
  if (slips.length === 0) return speed.values;
  const mended = speed.values.slice();
  for (const i of slips) mended[i] = (speed.values[i - 1] + speed.values[i + 1]) / 2;
  return mended;
}
