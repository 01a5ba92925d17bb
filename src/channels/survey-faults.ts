import { formatNumber, formatQuantity } from '../kernel/format-number.ts';
import { runsWhere } from '../signal/runs.ts';
import { type ChannelId, channelEntry } from './catalogue.ts';
import { dimensionOfChannel, isFuelTrim, isStatusLike } from './channel-kind.ts';
import type { Channel } from './recording.ts';
import type { ColumnFacts } from './survey-column.ts';

/** What speaks against a column. */
export interface ColumnFault {
  readonly kind: 'empty' | 'dead' | 'stuck' | 'saturated' | 'implausible';
  readonly text: string;
}

/** Quantities that may well stay as they are over a whole log. */
const MAY_STAY = (id: ChannelId | undefined): boolean =>
  id !== undefined &&
  (isStatusLike(id) ||
    id.startsWith('knock_retard') ||
    [
      'barometric_pressure',
      'ethanol_content',
      'manifold_pressure_target',
      'fuel_rail_pressure_target',
      'lambda_target',
    ].includes(id) ||
    isFuelTrim(id));

/** Facts of the column itself: empty, dead (always zero) or stuck (always the same). */
export function columnFault(facts: ColumnFacts, id: ChannelId | undefined): ColumnFault | undefined {
  const { min, max, distinct, coverage, labels, kind } = facts;
  if (coverage === 0) return { kind: 'empty', text: 'no cell has a value' };
  if (kind === 'text' || min === undefined || max === undefined) return undefined;
  if (distinct > 1 || labels.length > 0 || MAY_STAY(id)) return undefined;
  if (max === 0) return { kind: 'dead', text: 'reads 0 all through the log' };
  return { kind: 'stuck', text: `reads ${formatNumber(max, '')} all through the log` };
}

/** Ends of scale: SAE J1979 one-byte manifold pressure and temperature. */
const TOP_END: Partial<Record<ChannelId, readonly [end: number, within: number]>> = {
  manifold_pressure: [255, 0.5],
  intake_air_temperature: [215, 0.5],
  coolant_temperature: [215, 0.5],
  mass_air_flow: [655.35, 0.05],
};
const OPEN_CIRCUIT_C = -39.5;
/** A reading that stays exactly alike at its outermost value for this many updates, again and again, is an end of a scale. */
const ALIKE_UPDATES = 6;
const TIMES = 2;
/** A course that is cut off comes to its end in full flight, by this many steps in one update; one that settles comes slowly. */
const CUT_OFF_STEPS = 4;

/** Percentages, trims and states come to rest at their ends by nature. */
const restsAtEnds = (id: ChannelId) =>
  dimensionOfChannel(id) === 'percent' ||
  isStatusLike(id) ||
  MAY_STAY(id) ||
  ['vehicle_speed', 'engine_speed', 'spark_advance'].includes(id);

function saturatedAt(channel: Channel, end: number, within: number): number {
  return channel.values.reduce((count, value) => count + (Math.abs(value - end) <= within ? 1 : 0), 0);
}

function saturation(channel: Channel): string | undefined {
  const { id, values, max, min, step } = channel;
  const { unit } = channelEntry(id);
  const known = TOP_END[id];
  if (known) {
    const count = saturatedAt(channel, ...known);
    if (count >= 3)
      return `reads ${formatQuantity(known[0], unit)}, the end of its scale, in ${count} samples: what was beyond is unknown`;
  }
  if (restsAtEnds(id) || max - min < 20 * step || step === 0) return undefined;
  const runs = runsWhere(values.length, (i) => values[i] === max).filter(
    ({ start, end }) => start > 0 && end - start >= ALIKE_UPDATES && max - values[start - 1] >= CUT_OFF_STEPS * step,
  );
  if (runs.length < TIMES) return undefined;
  return `stays at exactly ${formatQuantity(max, unit)}, its highest value, ${runs.length} times: it may be the end of its scale`;
}

/** What a channel's values, in canonical units, say against it. */
export function channelFaults(channel: Channel): ColumnFault[] {
  const { id, min, max, implausibleCount, values } = channel;
  const { unit, plausible } = channelEntry(id);
  const found: ColumnFault[] = [];
  const isTemperature = dimensionOfChannel(id) === 'temperature';
  if (isTemperature && max <= OPEN_CIRCUIT_C) {
    found.push({ kind: 'dead', text: `reads ${formatQuantity(max, unit)}, as an open circuit does` });
  }
  const ended = saturation(channel);
  if (ended) found.push({ kind: 'saturated', text: ended });
  if (implausibleCount > 0) {
    const [low, high] = plausible;
    const worst = high - max < min - low ? max : min;
    found.push({
      kind: 'implausible',
      text: `${implausibleCount} of ${values.length} samples outside ${formatNumber(low, unit)} to ${formatQuantity(high, unit)}, the farthest ${formatQuantity(worst, unit)}`,
    });
  }
  return found;
}
