import { type ChannelId, channelEntry } from '../channels/catalogue.ts';
import type { Channel, Recording } from '../channels/recording.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { LoadSignal } from './drive.ts';

/** Full pedal starts here, %; a sensor that tops out lower counts as full near its own top. Common practice, no source. */
const FULL_PEDAL = 90;
const LOWEST_TOP = 70;

/** Largest value that two samples running reach, so that a lone glitch does not set the scale. */
export function sustainedTop(values: Float64Array): number {
  let top = Number.NEGATIVE_INFINITY;
  let before = values[0];
  for (let i = 1, n = values.length; i < n; i++) {
    const value = values[i];
    if (value > top && before > top) top = Math.min(before, value);
    before = value;
  }
  return values.length === 1 ? values[0] : top;
}

function pedalLike(channel: Channel): LoadSignal | undefined {
  const top = sustainedTop(channel.values);
  if (top < LOWEST_TOP || channel.max - channel.min < 5) return undefined;
  const full = Math.min(FULL_PEDAL, top * 0.95);
  const what = channel.id === 'accelerator_position' ? 'accelerator' : 'throttle';
  const note =
    full < FULL_PEDAL
      ? `The ${what} never read above ${formatQuantity(top, '%')}; from ${formatQuantity(full, '%')} on it is taken as full.`
      : undefined;
  return { channel: channel.id, full, note };
}

const stands = (what: string) => `Neither accelerator nor throttle tells full load; pulls were found by ${what}.`;

function loadLike(channel: Channel): LoadSignal | undefined {
  const top = sustainedTop(channel.values);
  if (top < 80) return undefined;
  const full = channel.id === 'calculated_load' ? Math.max(80, top * 0.88) : Math.max(75, top * 0.5);
  return {
    channel: channel.id,
    full,
    note: stands(channel.id === 'calculated_load' ? 'calculated load' : 'absolute load'),
  };
}

function pressureLike(channel: Channel, barometricKpa: number): LoadSignal | undefined {
  const top = sustainedTop(channel.values) - barometricKpa;
  if (top < -8) return undefined;
  const full = barometricKpa + (top > 20 ? Math.min(5, top * 0.1) : -6);
  return { channel: channel.id, full, note: stands('manifold pressure') };
}

/** How full load is told in this recording: by pedal, else throttle, else load, else manifold pressure. */
export function loadSignal(recording: Recording): LoadSignal | undefined {
  const readBy = (id: ChannelId, read: (channel: Channel) => LoadSignal | undefined) => {
    const channel = recording.channels.get(id);
    return channel && channel.values.length > 1 ? read(channel) : undefined;
  };
  const pedal = recording.channels.get('accelerator_position');
  const throttle = recording.channels.get('throttle_position');
  const moves = (channel: Channel | undefined) => channel !== undefined && channel.max - channel.min >= 5;
  if (moves(pedal)) return readBy('accelerator_position', pedalLike);
  if (moves(throttle)) return readBy('throttle_position', pedalLike);
  return (
    readBy('calculated_load', loadLike) ??
    readBy('absolute_load', loadLike) ??
    readBy('manifold_pressure', (channel) => pressureLike(channel, recording.barometric.kpa))
  );
}

const PEDALS = ['accelerator_position', 'throttle_position'] as const;
const LOADS = ['calculated_load', 'absolute_load'] as const;
/** A load that reads this much is no proof of a full pedal, but worth a word, %. */
const HIGH_LOAD = 80;

/** Why no full load was told where `loadSignal` tells none: what the channels reached, and what would let pulls be found. */
export function noLoadNote(recording: Recording): string {
  const tops = (ids: readonly ChannelId[]) =>
    ids.flatMap((id) => {
      const channel = recording.channels.get(id);
      const moves = channel !== undefined && channel.values.length > 1 && channel.max - channel.min >= 5;
      return moves ? [{ name: channelEntry(id).title.toLowerCase(), top: sustainedTop(channel.values) }] : [];
    });
  const pedals = tops(PEDALS);
  if (pedals.length === 0)
    return 'Full load was never reached by accelerator, throttle, load or manifold pressure: no pull was found.';
  const said = (found: typeof pedals) => found.map(({ name, top }) => `${name} ${formatQuantity(top, '%')}`).join(', ');
  const high = tops(LOADS).filter(({ top }) => top >= HIGH_LOAD);
  if (high.length === 0)
    return `Full load was never reached by the pedal or throttle (highest ${said(pedals)}): no pull was found.`;
  return `No pull was found: the pedal or throttle was never full (highest ${said(pedals)}). Load went up to ${said(high)} all the same, but where pedal or throttle is logged they tell a pull: part throttle can load an engine that much. If that was full pedal, the scale of these channels is wrong: mend it in the mapping, or leave them out of it, and pulls are found by load.`;
}
