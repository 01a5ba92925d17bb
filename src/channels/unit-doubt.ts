import type { ChannelId } from './catalogue.ts';
import type { Channel } from './recording.ts';

/** One doubt as a sentence: channel, column, what was seen, and what to change in the mapping. */
export function doubt(channel: Channel, seen: string, change: string): string {
  return `${channel.id} ("${channel.column}") ${seen}. ${change}`;
}

/** `Map it with "unit": "mbar".` */
export const mapWith = (key: string, value: string): string => `Map it with "${key}": ${value}.`;

/** Channels of a recording that hold enough samples to say anything. */
export function enough(channels: ReadonlyMap<ChannelId, Channel>, id: ChannelId): Channel | undefined {
  const channel = channels.get(id);
  return channel && channel.values.length >= FEWEST ? channel : undefined;
}

const FEWEST = 20;
