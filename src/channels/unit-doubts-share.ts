import { formatNumber } from '../kernel/format-number.ts';
import { quantile } from '../signal/quantile.ts';
import { quantileExceeds } from '../signal/quantile-exceeds.ts';
import type { ChannelId } from './catalogue.ts';
import { topSpeedOf } from './guess-evidence.ts';
import type { Channel, Recording } from './recording.ts';
import { doubt, enough, mapWith } from './unit-doubt.ts';

/** Percentages that move far when an engine is driven. */
const DRIVEN: readonly ChannelId[] = [
  'throttle_position',
  'accelerator_position',
  'calculated_load',
  'absolute_load',
  'injector_duty',
  'wastegate_duty',
];
/** A share of one stays below; a percentage of a driven engine does not. */
const SHARE_TOP = 1.5;
const WORKED_RPM = 2500;
const MOVES = 0.05;
/** A percentage taken for a share is a hundred times too large. */
const BEYOND = 450;

/** The highest reading but for strays, as a quantile. */
const TOP = 0.995;

function ofShare(channel: Channel): string | undefined {
  if (channel.max <= BEYOND && quantileExceeds(channel.values, TOP, SHARE_TOP)) return undefined;
  const top = quantile(channel.values, TOP);
  if (top > 0 && top <= SHARE_TOP && top - quantile(channel.values, 0.05) >= MOVES) {
    const seen = `moves with the engine but never reads above ${formatNumber(top, 'ratio')} %`;
    return doubt(channel, seen, `The column is a share of one: ${mapWith('unit', '"ratio"')}`);
  }
  if (top <= BEYOND) return undefined;
  const seen = `reads up to ${formatNumber(top, '')} %`;
  return doubt(channel, seen, `The column is per cent already: ${mapWith('unit', '"%"')}`);
}

const ENGINE_TOP_RPM = 20;

function ofEngineSpeed(channel: Channel): string | undefined {
  if (quantileExceeds(channel.values, TOP, ENGINE_TOP_RPM)) return undefined;
  const top = quantile(channel.values, TOP);
  if (top <= 0.3 || top >= ENGINE_TOP_RPM) return undefined;
  const seen = `never reads above ${formatNumber(top, '')} rpm`;
  return doubt(channel, seen, `The column is in thousands: ${mapWith('unit', '"krpm"')}`);
}

/** No car's supply is at so many volts; in millivolts it is. */
const MILLIVOLTS = 5000;

function ofBattery(channel: Channel): string | undefined {
  if (channel.max < MILLIVOLTS) return undefined;
  const usual = quantile(channel.values, 0.5);
  if (usual < MILLIVOLTS) return undefined;
  return doubt(
    channel,
    `reads ${formatNumber(usual, '')} V`,
    `The column is in millivolts: ${mapWith('unit', '"mV"')}`,
  );
}

/** Ethanol of real blends is none to speak of, or at least this, % by volume (common practice, no source). */
const LEAST_BLEND = [0.04, 1] as const;

function ofEthanol(channel: Channel): string | undefined {
  if (channel.max > 1) return undefined;
  const usual = quantile(channel.values, 0.5);
  if (usual < LEAST_BLEND[0] || usual >= LEAST_BLEND[1]) return undefined;
  const seen = `reads ${formatNumber(usual, 'ratio')} % in the middle and never more than ${formatNumber(channel.max, 'ratio')} %`;
  return doubt(channel, seen, `If the column is a share of one: ${mapWith('unit', '"ratio"')}`);
}

/** Doubts about percentages, engine speed and battery voltage: units a hundred or a thousand apart. */
export function shareDoubts({ channels }: Recording): string[] {
  const found: (string | undefined)[] = [];
  const speed = enough(channels, 'engine_speed');
  if (speed) found.push(ofEngineSpeed(speed));
  if (speed && (quantileExceeds(speed.values, TOP, WORKED_RPM) || topSpeedOf(speed) >= WORKED_RPM)) {
    for (const id of DRIVEN) {
      const channel = enough(channels, id);
      if (channel) found.push(ofShare(channel));
    }
  }
  const ethanol = enough(channels, 'ethanol_content');
  if (ethanol) found.push(ofEthanol(ethanol));
  const battery = enough(channels, 'battery_voltage');
  if (battery) found.push(ofBattery(battery));
  return found.filter((one) => one !== undefined);
}
