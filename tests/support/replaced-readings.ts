import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Channel } from '../../src/channels/recording.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { largest, smallest } from '../../src/signal/extremes.ts';

/** The same drive with some readings of one channel replaced; pulls and regimes stay as they are. */
export function withReadingsReplaced(
  drive: Drive,
  id: ChannelId,
  replace: (value: number, t: number, i: number) => number,
): Drive {
  const channel = drive.recording.channels.get(id);
  if (!channel) throw new Error(`${id} is not in this drive`);
  const values = channel.values.map((value, i) => replace(value, channel.time[i], i));
  const changed: Channel = { ...channel, values, min: smallest(values), max: largest(values) };
  const channels = new Map(drive.recording.channels).set(id, changed);
  return { ...drive, recording: { ...drive.recording, channels } };
}
