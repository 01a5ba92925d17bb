import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel, Recording } from '../../channels/recording.ts';
import { totalTrimPercent } from '../../engine/total-trim.ts';
import { holdAt } from '../../signal/interpolate.ts';
import { alignedTo, bridgeableGapS } from '../align.ts';

/** Fastest and slowest spacing of the common time base, s. Trims move by tenths of a second at most. */
const FINEST_STEP_S = 0.2;
const COARSEST_STEP_S = 2;
const MOST_POINTS = 30_000;
/** A short term trim this old is no longer known, s; more where the channel is polled slowly. */
const STALE_S = 5;

/** Resolution of a trim by SAE J1979, taken where the values do not show their own: 100/128 %. */
const J1979_STEP_PERCENT = 0.78125;

export type BankNumber = 1 | 2;

/** Fuel trims of one bank on the common time base, %; NaN where not known. */
export interface TrimBank {
  readonly bank: BankNumber;
  /** Which of the two trims the log has. */
  readonly parts: 'both' | 'short' | 'long';
  readonly shortTerm: Float64Array | undefined;
  readonly longTerm: Float64Array | undefined;
  /** (1 + ST/100)(1 + LT/100) − 1, %; a trim that is not logged counts as zero. */
  readonly total: Float64Array;
  /** Quantisation of the trims, %. */
  readonly stepPercent: number;
}

export interface TrimGrid {
  readonly time: Float64Array;
  readonly stepS: number;
  readonly banks: readonly TrimBank[];
  /** True updates per second of the slowest-read short term trim, else long term trim. */
  readonly trimRateHz: number;
  /** Channels that hold no information: trims never sent, one sentence each. */
  readonly notes: readonly string[];
}

/** A channel at the given times: a line between samples, the last value across longer gaps. Not to be written to. */
export function levelAt(channel: Channel, time: Float64Array): Float64Array {
  const aligned = alignedTo(channel, time);
  if (!aligned.includes(Number.NaN)) return aligned;
  const level = aligned.slice();
  const held = holdAt(channel.time, channel.values, time, Math.max(10, 5 * bridgeableGapS(channel)));
  for (let i = 0, size = level.length; i < size; i++) if (Number.isNaN(level[i])) level[i] = held[i];
  return level;
}

/** A time base of even spacing inside each time segment of the log. */
function evenTimes(recording: Recording, stepS: number): Float64Array {
  const counts = recording.segments.map(({ startS, endS }) => Math.floor((endS - startS) / stepS + 1e-6) + 1);
  const times = new Float64Array(counts.reduce((sum, n) => sum + n, 0));
  let next = 0;
  for (const [s, { startS }] of recording.segments.entries()) {
    for (let i = 0; i < counts[s]; i++) times[next++] = startS + i * stepS;
  }
  return times;
}

const neverMoves = (channel: Channel) => channel.max === channel.min;
/** Both ends of the J1979 scale (raw 00 and FF): what a control unit or adapter sends for a trim it does not have. */
const atScaleEnd = (channel: Channel) => neverMoves(channel) && (channel.max >= 99 || channel.max <= -99);

/** The trims of a bank that carry information; nothing where the bank is not there. */
function liveTrims(recording: Recording, bank: BankNumber, notes: string[]) {
  const read = (id: ChannelId, term: string) => {
    const channel = recording.channels.get(id);
    if (!channel || channel.values.length === 0) return undefined;
    if (!atScaleEnd(channel)) return channel;
    notes.push(
      `${term} of bank ${bank} stands at ${channel.max.toFixed(1)} % throughout, the end of its scale: it is taken as not sent.`,
    );
    return undefined;
  };
  const shortTerm = read(bank === 1 ? 'short_term_fuel_trim_1' : 'short_term_fuel_trim_2', 'Short term trim');
  const longTerm = read(bank === 1 ? 'long_term_fuel_trim_1' : 'long_term_fuel_trim_2', 'Long term trim');
  if (!shortTerm && !longTerm) return undefined;
  const allZero = [shortTerm, longTerm].every((channel) => !channel || (neverMoves(channel) && channel.max === 0));
  if (!allZero) return { shortTerm, longTerm };
  notes.push(
    `Every trim value of bank ${bank} is exactly zero: no bank ${bank}, corrections switched off, or a dead channel. It is not judged.`,
  );
  return undefined;
}

function trimBank(
  bank: BankNumber,
  live: { shortTerm: Channel | undefined; longTerm: Channel | undefined },
  time: Float64Array,
): TrimBank {
  const rate = live.shortTerm?.rateHz;
  const staleS = rate !== undefined && Number.isFinite(rate) ? Math.max(STALE_S, 5 / rate) : Number.POSITIVE_INFINITY;
  const shortTerm = live.shortTerm && holdAt(live.shortTerm.time, live.shortTerm.values, time, staleS);
  const longTerm = live.longTerm && holdAt(live.longTerm.time, live.longTerm.values, time, Number.POSITIVE_INFINITY);
  const total = new Float64Array(time.length);
  for (let i = 0, size = total.length; i < size; i++) {
    total[i] = totalTrimPercent(shortTerm ? shortTerm[i] : 0, longTerm ? longTerm[i] : 0);
  }
  return {
    bank,
    parts: shortTerm && longTerm ? 'both' : shortTerm ? 'short' : 'long',
    shortTerm,
    longTerm,
    total,
    stepPercent: (live.shortTerm ?? live.longTerm)?.step || J1979_STEP_PERCENT,
  };
}

/** Both banks' trims on one even time base, however differently their channels are sampled. */
export function trimGrid(recording: Recording): TrimGrid {
  const notes: string[] = [];
  const live = ([1, 2] as const).flatMap((bank) => {
    const trims = liveTrims(recording, bank, notes);
    return trims ? [{ bank, trims }] : [];
  });
  const rates = live
    .map(({ trims }) => (trims.shortTerm ?? trims.longTerm)?.rateHz ?? Number.NaN)
    .filter(Number.isFinite);
  const trimRateHz = rates.length > 0 ? Math.min(...rates) : Number.NaN;
  const spacingS = Number.isFinite(trimRateHz) ? 1 / trimRateHz : 0.5;
  const coveredS = recording.segments.reduce((sum, segment) => sum + segment.endS - segment.startS, 0);
  const stepS = Math.max(Math.min(Math.max(spacingS, FINEST_STEP_S), COARSEST_STEP_S), coveredS / MOST_POINTS);
  const time = live.length > 0 ? evenTimes(recording, stepS) : new Float64Array(0);
  return { time, stepS, banks: live.map(({ bank, trims }) => trimBank(bank, trims, time)), trimRateHz, notes };
}
