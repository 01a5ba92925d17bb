import { channelEntry } from '../channels/catalogue.ts';
import type { Channel } from '../channels/recording.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { oncePer } from '../kernel/once-per.ts';
import type { Drive } from './drive.ts';
import { deadClause } from './health/dead.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** More readings than this share that no air, water or oil gives leave nothing to go by. Common practice, no source. */
const MOSTLY = 0.5;
/** Readings this close to either end of the channel's range are the end and not a temperature, K. Common practice, no source. */
const END_K = 2;

function isUnusable(value: number, low: number, high: number): boolean {
  return !(value > low + END_K && value < high - END_K);
}

/** Readings with indexes `from` up to `to` that lie outside the range of the channel or at an end of it. */
function unusableCount({ id, values }: Channel, from: number, to: number): number {
  const [low, high] = channelEntry(id).plausible;
  let count = 0;
  for (let i = from; i < to; i++) if (isUnusable(values[i], low, high)) count++;
  return count;
}

function isWithinEnds({ id, min, max }: Channel): boolean {
  const [low, high] = channelEntry(id).plausible;
  return min > low + END_K && max < high - END_K;
}

function mostlyWords(channel: Channel, count: number, of: number, where: string): string | undefined {
  if (!(count > MOSTLY * of)) return undefined;
  const [low, high] = channelEntry(channel.id).plausible;
  const share = formatQuantity((100 * count) / of, '%');
  return `lay at an end of its range (${formatQuantity(low, 'degC')}, ${formatQuantity(high, 'degC')}) or beyond in ${share} of its readings${where}`;
}

const faultOf = oncePer((drive: Drive) =>
  oncePer((channel: Channel): string | undefined => {
    const dead = deadClause(drive, channel);
    if (dead !== undefined || isWithinEnds(channel)) return dead;
    const of = channel.values.length;
    return mostlyWords(channel, unusableCount(channel, 0, of), of, '');
  }),
);

/** Why a temperature channel measures nothing: dead, or mostly at or beyond an end of its range. In a clause; nothing where it can be used. */
export function temperatureFault(drive: Drive, channel: Channel): string | undefined {
  return faultOf(drive)(channel);
}

/** The same, of the readings inside the pulls: a contact that opens under load. */
export function temperatureFaultInPulls(drive: Drive, channel: Channel): string | undefined {
  if (isWithinEnds(channel)) return undefined;
  let [count, of] = [0, 0];
  for (const { startS, endS } of drive.pulls) {
    const from = indexAtOrAfter(channel.time, startS - 1e-9);
    const to = indexAtOrAfter(channel.time, endS + 1e-9);
    count += unusableCount(channel, from, to);
    of += to - from;
  }
  return mostlyWords(channel, count, of, ' in the pulls');
}
