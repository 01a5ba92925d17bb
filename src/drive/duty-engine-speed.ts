import { oncePer } from '../kernel/once-per.ts';
import { interpolateAt } from '../signal/interpolate.ts';
import type { Drive } from './drive.ts';
import { loneSamples } from './duty-glitches.ts';

const FLOOR_RPM = 300;
const CAP_RPM = 2500;

interface EngineSpeed {
  readonly time: Float64Array;
  readonly rpm: Float64Array;
  readonly rateHz: number;
}

/** Engine speed with its lone slips left out. */
export const cleanEngineSpeed = oncePer((drive: Drive): EngineSpeed => {
  const rateHz = drive.recording.channels.get('engine_speed')?.rateHz ?? Number.NaN;
  const slips = new Set(loneSamples(drive.engineSpeed, rateHz, FLOOR_RPM, CAP_RPM));
  if (slips.size === 0) return { time: drive.time, rpm: drive.engineSpeed, rateHz };
  const keep = (_: number, i: number) => !slips.has(i);
  return { time: drive.time.filter(keep), rpm: drive.engineSpeed.filter(keep), rateHz };
});

/** Clean engine speed at the given times, rpm; NaN where it has no sample near. */
export function cleanEngineSpeedAt(drive: Drive, at: Float64Array): Float64Array {
  const { time, rpm, rateHz } = cleanEngineSpeed(drive);
  if (time === at) return rpm;
  if (time.length === 0) return new Float64Array(at.length).fill(Number.NaN);
  return interpolateAt(time, rpm, at, rateHz > 0 ? Math.max(1, 3 / rateHz) : 1);
}
