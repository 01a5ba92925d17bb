import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import type { Drive } from '../drive.ts';
import type { Span } from '../health/doubt.ts';

/** A temperature with what no temperature can do left out. */
export interface CleanTemperature {
  readonly id: ChannelId;
  readonly time: Float64Array;
  readonly values: Float64Array;
  readonly rateHz: number;
  readonly step: number;
  /** Longest distance of samples that still count as neighbours, s. */
  readonly gapS: number;
  /** Readings outside what the channel can be. */
  readonly implausible: number;
  /** Stretches that jump away and back faster than metal, water or oil can. */
  readonly jumps: readonly (Span & { readonly topC: number })[];
}

/** A sensor in its pocket takes seconds; this far between two readings this close together is electrical. Common practice, no source. */
const JUMP_K = 15;
const JUMP_WITHIN_S = 1.5;
/** An air temperature changes faster than water or oil, so only a jump of this size is electrical, K. Common practice, no source. */
export const AIR_JUMP_K = 40;
/** A jump that stays is a change of state and not a slip. */
export const LONGEST_JUMP_S = 10;

/** Whether every reading is plausible and none jumps: then the channel is clean as it stands. */
function isClean({ time, values, min, max }: Channel, low: number, high: number, jumpK: number): boolean {
  if (!(min > low && max < high)) return false;
  if (max - min < jumpK) return true;
  for (let i = 1, n = values.length; i < n; i++) {
    if (Math.abs(values[i] - values[i - 1]) >= jumpK && time[i] - time[i - 1] <= JUMP_WITHIN_S) return false;
  }
  return true;
}

function withoutSlips({ time, values }: Channel, low: number, high: number, jumpK: number) {
  const plausible: number[] = [];
  for (let i = 0, n = values.length; i < n; i++) if (values[i] > low && values[i] < high) plausible.push(i);
  const at = (k: number) => time[plausible[k]];
  const value = (k: number) => values[plausible[k]];
  const isJump = (k: number) =>
    k > 0 && k < plausible.length && Math.abs(value(k) - value(k - 1)) >= jumpK && at(k) - at(k - 1) <= JUMP_WITHIN_S;
  const out = new Set<number>();
  const jumps: (Span & { topC: number })[] = [];
  for (let k = 1, n = plausible.length; k < n; k++) {
    if (!isJump(k)) continue;
    let back = k + 1;
    while (back < plausible.length && !isJump(back) && at(back) - at(k) <= LONGEST_JUMP_S) back++;
    const returns = isJump(back) && Math.abs(value(back) - value(k - 1)) < jumpK;
    if (!returns) continue;
    let topC = value(k);
    for (let j = k; j < back; j++) {
      out.add(j);
      topC = Math.max(topC, value(j));
    }
    jumps.push({ startS: at(k), endS: at(back - 1), topC });
    k = back;
  }
  const kept = plausible.filter((_, k) => !out.has(k));
  return {
    time: Float64Array.from(kept, (i) => time[i]),
    values: Float64Array.from(kept, (i) => values[i]),
    implausible: values.length - plausible.length,
    jumps,
  };
}

/** A temperature channel without implausible readings and without jumps there and back. */
export function cleanTemperature(drive: Drive, id: ChannelId, jumpK = JUMP_K): CleanTemperature | undefined {
  const channel = drive.recording.channels.get(id);
  if (!channel || channel.values.length === 0) return undefined;
  const { time, values, rateHz, step } = channel;
  const [low, high] = channelEntry(id).plausible;
  const readings = isClean(channel, low, high, jumpK)
    ? { time, values, implausible: 0, jumps: [] }
    : withoutSlips(channel, low, high, jumpK);
  return { id, ...readings, rateHz, step, gapS: rateHz > 0 ? Math.max(2, 3 / rateHz) : 2 };
}
