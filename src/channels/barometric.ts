import { formatQuantity } from '../kernel/format-number.ts';
import { holdAt, interpolateAt } from '../signal/interpolate.ts';
import { median } from '../signal/median.ts';
import type { Barometric, Channel } from './recording.ts';

const STANDARD_ATMOSPHERE_KPA = 101.325;
/** Air pressure anywhere a car is driven. */
const PLAUSIBLE_KPA = [50, 110] as const;
const FEWEST_SAMPLES = 3;
/** An engine-speed sample speaks for this long. */
const SPEED_HOLDS_S = 2;

const kpa = (value: number) => formatQuantity(value, 'kPa');

/** Whether a pressure, kPa absolute, can be that of the air a car is driven in. */
export const isAirPressure = (value: number): boolean => value >= PLAUSIBLE_KPA[0] && value <= PLAUSIBLE_KPA[1];

function engineOff(manifoldAbsolute: Channel | undefined, engineSpeed: Channel | undefined): number | undefined {
  if (!manifoldAbsolute || !engineSpeed) return undefined;
  const speed = holdAt(engineSpeed.time, engineSpeed.values, manifoldAbsolute.time, SPEED_HOLDS_S);
  if (!speed.includes(0)) return undefined;
  const off = manifoldAbsolute.values.filter((_, i) => speed[i] === 0);
  if (off.length < FEWEST_SAMPLES) return undefined;
  const level = median(off);
  return isAirPressure(level) ? level : undefined;
}

export interface BarometricOptions {
  readonly barometricKpa?: number | undefined;
  /** Where it is from, for the sentence: `ambient.altitude 600 m`. */
  readonly barometricFrom?: string | undefined;
}

/** Air pressure of the log: its own channel, else the manifold with the engine off, else the build sheet, else the standard atmosphere. */
export function barometricOf(
  channel: Channel | undefined,
  manifoldAbsolute: Channel | undefined,
  engineSpeed: Channel | undefined,
  options: BarometricOptions,
): Barometric {
  if (!channel) return withoutChannel(manifoldAbsolute, engineSpeed, options);
  const level = median(channel.values);
  if (isAirPressure(level)) {
    const note = `Air pressure ${kpa(level)}, the median of the logged barometric pressure.`;
    return { kpa: level, source: 'channel', note };
  }
  const instead = withoutChannel(manifoldAbsolute, engineSpeed, options);
  const why = `The logged barometric pressure (${kpa(level)} in the middle) cannot be that of the outside air and is not used.`;
  return { ...instead, note: `${why} ${instead.note}` };
}

function withoutChannel(
  manifoldAbsolute: Channel | undefined,
  engineSpeed: Channel | undefined,
  options: BarometricOptions,
): Barometric {
  const off = engineOff(manifoldAbsolute, engineSpeed);
  if (off !== undefined) {
    const note = `Air pressure ${kpa(off)}, from manifold pressure with the engine off.`;
    return { kpa: off, source: 'engine-off manifold pressure', note };
  }
  const given = options.barometricKpa;
  if (given !== undefined) {
    const from = options.barometricFrom ? ` (${options.barometricFrom})` : '';
    return { kpa: given, source: 'build sheet', note: `Air pressure ${kpa(given)}, from the build sheet${from}.` };
  }
  const note = `Air pressure taken as ${kpa(STANDARD_ATMOSPHERE_KPA)} (standard atmosphere at sea level); the log and the build sheet do not tell it.`;
  return { kpa: STANDARD_ATMOSPHERE_KPA, source: 'standard atmosphere', note };
}

/** A logged air pressure that moves less than this over the log counts as one level. */
const VARIES_KPA = 1;
const LONGEST_BRIDGE_S = 120;

/** Air pressure at instants: the logged channel where it moves (a mountain road), else the one level. */
export function barometricAt(barometric: Barometric, channel: Channel | undefined, at: Float64Array): Float64Array {
  const moves = channel !== undefined && barometric.source === 'channel' && channel.max - channel.min >= VARIES_KPA;
  if (!moves) return new Float64Array(at.length).fill(barometric.kpa);
  const between = interpolateAt(channel.time, channel.values, at, LONGEST_BRIDGE_S);
  return between.map((value) => (isAirPressure(value) ? value : barometric.kpa));
}
