import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel, Recording } from '../../channels/recording.ts';

/** The channel that stands for engine load in the table of cells. */
export interface LoadAxis {
  readonly channel: Channel;
  readonly unit: '%' | 'kPa';
  /** Width of a cell. */
  readonly width: number;
  readonly name: string;
}

const CANDIDATES: readonly { id: ChannelId; unit: '%' | 'kPa'; width: number; name: string; least: number }[] = [
  { id: 'absolute_load', unit: '%', width: 10, name: 'absolute load', least: 2 },
  { id: 'calculated_load', unit: '%', width: 10, name: 'calculated load', least: 2 },
  { id: 'manifold_pressure', unit: 'kPa', width: 10, name: 'manifold pressure', least: 2 },
  { id: 'throttle_position', unit: '%', width: 5, name: 'throttle position', least: 2 },
];

/**
 * Load by absolute load, else calculated load, else manifold pressure, else throttle: the first that is logged and alive.
 * A load channel that never moves (its airflow meter unplugged, say) tells nothing and is passed over.
 */
export function loadAxis(recording: Recording): LoadAxis | undefined {
  for (const { id, unit, width, name, least } of CANDIDATES) {
    const channel = recording.channels.get(id);
    if (channel && channel.values.length > 0 && channel.max - channel.min >= least) {
      return { channel, unit, width, name };
    }
  }
  const steady = recording.channels.get('manifold_pressure') ?? recording.channels.get('calculated_load');
  return steady && steady.max > 5 && steady.values.length > 0
    ? steady.id === 'manifold_pressure'
      ? { channel: steady, unit: 'kPa', width: 10, name: 'manifold pressure' }
      : { channel: steady, unit: '%', width: 10, name: 'calculated load' }
    : undefined;
}
