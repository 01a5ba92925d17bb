import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { alignedChannel } from '../align.ts';
import type { Drive } from '../drive.ts';
import { temperatureFault, temperatureFaultInPulls } from '../temperature-fault.ts';
import { AIR_JUMP_K, type CleanTemperature, cleanTemperature, LONGEST_JUMP_S } from './clean.ts';

/** The temperature that stands for the charge's, and what was passed over to come to it. */
export interface ChargeSource {
  readonly clean: CleanTemperature | undefined;
  /** In sentences; empty where nothing was passed over or left out. */
  readonly notes: readonly string[];
}

/** Best first. */
const PREFERRED = ['charge_air_temperature', 'intake_air_temperature'] as const satisfies readonly ChannelId[];

/** Charge temperature behind the cooler where it is logged and alive, else intake temperature. `disconnected` channels are passed over. */
export function chargeSource(drive: Drive, disconnected: readonly string[] = []): ChargeSource {
  return PREFERRED.some((id) => disconnected.includes(id)) ? choose(drive, disconnected) : sourceOf(drive);
}

const sourceOf = oncePer((drive: Drive) => choose(drive, []));

function choose(drive: Drive, disconnected: readonly string[]): ChargeSource {
  const notes: string[] = [];
  for (const id of PREFERRED) {
    const channel = drive.recording.channels.get(id);
    if (!channel) continue;
    const fault = disconnected.includes(id)
      ? 'is listed as disconnected'
      : (temperatureFault(drive, channel) ?? temperatureFaultInPulls(drive, channel));
    const clean = fault === undefined ? cleanTemperature(drive, id, AIR_JUMP_K) : undefined;
    if (clean && clean.values.length > 0) {
      if (notes.length > 0 && id === 'intake_air_temperature')
        notes.push(
          'Intake air temperature is taken in its place; before the compressor it reads lower than the charge, so that air mass comes out high.',
        );
      const leftOut = channel.values.length - clean.values.length;
      if (leftOut > 0)
        notes.push(
          `${channelEntry(id).title}: ${leftOut} reading${leftOut === 1 ? '' : 's'} that no air gives left out.`,
        );
      return { clean, notes };
    }
    notes.push(`${channelEntry(id).title} is not used: it ${fault ?? 'holds no reading that can be'}.`);
  }
  return { clean: undefined, notes };
}

/** A cleaned temperature at the given times, °C; NaN where no reading is near. Readings left out are bridged. */
export function cleanAt(drive: Drive, clean: CleanTemperature, time: Float64Array): Float64Array {
  const isWhole = drive.recording.channels.get(clean.id)?.values === clean.values;
  const aligned = isWhole ? alignedChannel(drive.recording, clean.id, time) : undefined;
  return aligned ?? interpolateAt(clean.time, clean.values, time, clean.gapS + LONGEST_JUMP_S);
}

/** Charge temperature at the given times, °C, slips left out; nothing where none is logged and alive. */
export function chargeTemperatureAt(drive: Drive, time: Float64Array): Float64Array | undefined {
  const { clean } = chargeSource(drive);
  return clean && cleanAt(drive, clean, time);
}
