import { formatNumber } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import type { Trace } from './guess-evidence.ts';

export type TemperatureUnit = 'degC' | 'degF' | 'K';

export interface TemperatureReading {
  readonly unit: TemperatureUnit;
  readonly why: string;
}

/** No coolant is hotter than this in degrees Celsius, and a warm one is in degrees Fahrenheit. */
const HOTTEST_C = 135;
const WARM_C = [72, 112] as const;
const KELVIN = [250, 420] as const;
/** A thermostat holds coolant within this over the last third of a log. */
const HELD = 8;
const FEWEST_S = 40;

/**
 * The unit of coolant temperature by what a thermostat makes of it: a level held at 72 to 112 can only be degrees Celsius, as an
 * engine at 72 to 112 °F is cold and still warming; above 135 it is degrees Fahrenheit, and around 360 Kelvin.
 */
export function coolantUnit({ time, values }: Trace): TemperatureReading | undefined {
  if (values.length < 2) return undefined;
  const top = quantile(values, 0.98);
  const shown = formatNumber(top, 'degC');
  if (top > HOTTEST_C && quantile(values, 0.02) >= KELVIN[0]) {
    return top <= KELVIN[1] ? { unit: 'K', why: `coolant between 250 and ${shown} is in Kelvin` } : undefined;
  }
  if (top > HOTTEST_C) return { unit: 'degF', why: `coolant reaches ${shown}, which can only be °F` };
  const span = time[time.length - 1] - time[0];
  const from = time[time.length - 1] - span / 3;
  const last = values.filter((_, i) => time[i] >= from);
  const level = median(last);
  const held = quantile(last, 0.95) - quantile(last, 0.05) <= HELD;
  if (!held || span < FEWEST_S || level < WARM_C[0] || level > WARM_C[1]) return undefined;
  return { unit: 'degC', why: `coolant is held at ${formatNumber(level, 'degC')}, as a thermostat holds it in °C` };
}
