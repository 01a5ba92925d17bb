import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import type { Drive } from '../drive.ts';
import { inRegime } from '../regime-at.ts';
import { type Check, channelName, type Doubt, joined, type Span, sentence } from './doubt.ts';

/** This share of all readings outside the range makes a channel unbelievable; more than half makes it certainly wrong. Common practice, no source. */
const WARN_SHARE = 0.01;
const FAIL_SHARE = 0.5;
/** Pulls are judged by these; a wrong number in most of them is a wrong verdict. */
const JUDGED_BY: ReadonlySet<string> = new Set(['engine_speed', 'manifold_pressure', 'injector_pulse_width', 'lambda']);
/** Stretches no further apart than this are told as one, s. */
const TOLD_AS_ONE_S = 1;
/** A mixture sensor heats up for so long, and reads anything meanwhile, s. */
const HEATS_UP_S = 60;
/** Noise and rounding at the end of the range, as at a standstill, may pass it by this share of its width. */
const NOISE_SHARE = 0.002;

/** Readings outside the range that a healthy sensor gives: air in the exhaust, a heater that is still cold, a starter motor. */
function isNormal(drive: Drive, channel: Channel, i: number, isLow: boolean): boolean {
  const t = channel.time[i];
  if (channel.id === 'lambda') {
    return isLow
      ? t < HEATS_UP_S && !inRegime(drive, t, 'pull')
      : inRegime(drive, t, 'engine-off', 'fuel-cut', 'lift', 'transient', 'gear-change');
  }
  return channel.id === 'battery_voltage' && inRegime(drive, t, 'engine-off');
}

function implausibleDoubt(drive: Drive, channel: Channel): Doubt | undefined {
  if (channel.implausibleCount === 0) return undefined;
  const { unit, plausible } = channelEntry(channel.id);
  const [low, high] = plausible;
  const slack = NOISE_SHARE * (high - low);
  const spans: Span[] = [];
  let [count, lowest, highest, inPulls] = [0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let i = 0, n = channel.values.length; i < n; i++) {
    const value = channel.values[i];
    if ((value >= low - slack && value <= high + slack) || isNormal(drive, channel, i, value < low)) continue;
    count++;
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
    const t = channel.time[i];
    if (drive.pulls.some(({ startS, endS }) => t >= startS && t <= endS)) inPulls++;
    spans.push({ startS: t, endS: t });
  }
  if (count === 0) return undefined;
  const where = joined(spans, TOLD_AS_ONE_S);
  const share = count / channel.values.length;
  const name = channelName(channel.id);
  const show = (value: number) => formatQuantity(value, unit);
  const isWrong = share > FAIL_SHARE && JUDGED_BY.has(channel.id) && drive.pulls.length > 0;
  const shown = formatQuantity(100 * share, '%');
  return {
    gravity: isWrong ? 'fail' : inPulls > 0 || share >= WARN_SHARE ? 'warn' : 'tell',
    channels: [channel.id],
    short: `${name} reads what cannot be`,
    said: [
      sentence(
        `${name}: ${groupThousands(count)} of ${groupThousands(channel.values.length)} readings (${shown}) lie outside ${show(low)} to ${show(high)}, from ${show(lowest)} to ${show(highest)}${inPulls > 0 ? `; ${groupThousands(inPulls)} of them in full-load pulls` : ''}.`,
      ),
    ],
    where,
    measured: { value: 100 * share, unit: '%', mark: 100 * (isWrong ? FAIL_SHARE : WARN_SHARE) },
    next: [`Check unit, scale and sign of ${name} in the mapping first, then the sensor, its supply and its wiring.`],
  };
}

/** Readings outside what the quantity can be. */
export function implausibleChannels(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const channels = [...drive.recording.channels.values()].filter(({ id }) => !isSkipped(id));
  return {
    checked: channels.map(({ id }) => channelName(id)),
    doubts: channels.map((channel) => implausibleDoubt(drive, channel)).filter((doubt) => doubt !== undefined),
  };
}
