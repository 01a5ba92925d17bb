import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import type { Channel, Recording } from './recording.ts';
import { doubt, enough, mapWith } from './unit-doubt.ts';

const degrees = (value: number) => formatQuantity(value, 'degC');

/** No coolant is this hot, °C. */
const HOTTEST_COOLANT_C = 140;
const KELVIN_LOW = 250;
/** Coolant that a thermostat holds is never this cool, °C; 22 to 45 °C is 72 to 113 °F converted once too often. */
const HELD_TOO_COOL_C = [20, 46] as const;
const HELD_WITHIN_C = 3;
const FEWEST_S = 120;
/** Ambient and engine-bay air is below this, °C; charge air before an intercooler is not asked. */
const HOTTEST_INTAKE_C = 62;

function ofCoolant(channel: Channel): string | undefined {
  const { time, values } = channel;
  if (channel.min > HELD_TOO_COOL_C[1] && channel.max <= HOTTEST_COOLANT_C) return undefined;
  const top = quantile(values, 0.98);
  if (quantile(values, 0.02) >= KELVIN_LOW) {
    return doubt(
      channel,
      `never reads below ${degrees(quantile(values, 0.02))}`,
      `The column is in Kelvin: ${mapWith('unit', '"K"')}`,
    );
  }
  if (top > HOTTEST_COOLANT_C) {
    return doubt(
      channel,
      `reaches ${degrees(top)}, at which no engine runs`,
      `The column looks like degrees Fahrenheit: ${mapWith('unit', '"degF"')}`,
    );
  }
  const endS = time[time.length - 1];
  const spanS = endS - time[0];
  if (spanS < FEWEST_S) return undefined;
  const last = values.subarray(time.findIndex((t) => t >= endS - spanS / 3));
  const held = quantile(last, 0.95) - quantile(last, 0.05) <= HELD_WITHIN_C;
  const level = median(last);
  if (!held || level < HELD_TOO_COOL_C[0] || level > HELD_TOO_COOL_C[1]) return undefined;
  if (top - quantile(values, 0.02) > 2 * HELD_WITHIN_C && level < top - HELD_WITHIN_C) return undefined;
  return doubt(
    channel,
    `is held at ${degrees(level)}, as no thermostat does`,
    `If the column is in degrees Celsius but read as Fahrenheit: ${mapWith('unit', '"degC"')}`,
  );
}

/** Whether the engine ran; coolant beside a stopped engine stands at any temperature. */
const ran = ({ channels }: Recording) => (channels.get('engine_speed')?.max ?? 0) > 1500;

/** Doubts about temperatures: Fahrenheit, Celsius or Kelvin. */
export function temperatureDoubts(recording: Recording): string[] {
  const found: string[] = [];
  const coolant = enough(recording.channels, 'coolant_temperature');
  const ofIt = coolant && ran(recording) ? ofCoolant(coolant) : undefined;
  if (ofIt) found.push(ofIt);
  const intake = enough(recording.channels, 'intake_air_temperature');
  if (intake && intake.max > HOTTEST_INTAKE_C && quantile(intake.values, 0.05) > HOTTEST_INTAKE_C) {
    const low = quantile(intake.values, 0.05);
    const kelvin = low >= KELVIN_LOW;
    const seen = `never reads below ${degrees(low)}, which is no outside air`;
    const change = kelvin
      ? `The column is in Kelvin: ${mapWith('unit', '"K"')}`
      : `If the column is in degrees Fahrenheit: ${mapWith('unit', '"degF"')}`;
    found.push(doubt(intake, seen, change));
  }
  return found;
}
