import type { Column } from '../read/table.ts';
import { quantile } from '../signal/quantile.ts';
import { type ChannelId, channelEntry } from './catalogue.ts';
import { dimensionOfChannel, isFuelTrim } from './channel-kind.ts';
import { headerUnit } from './header-unit.ts';
import type { ChannelSource } from './mapping-schema.ts';
import { sampleOf } from './to-canonical.ts';

const greatest = (sample: Float64Array) => sample.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

/** What the largest value must reach before the canonical unit is believed: psi, bar or a 0…1 scale stay below it. */
function mustReach(id: ChannelId): number {
  switch (dimensionOfChannel(id)) {
    case 'pressure':
      return id.startsWith('fuel_rail') ? 150 : 80;
    case 'percent':
      return id === 'ethanol_content' || isFuelTrim(id) ? 0 : 1.5;
    case 'time':
      return 0.5;
    default:
      return 0;
  }
}

/** A trim that always lies around 1 is a factor, not a percentage. */
const looksLikeFactor = (sample: Float64Array) => quantile(sample, 0.02) > 0.5 && quantile(sample, 0.98) < 1.5;

/** Whether the values, without a unit to go by, can only be in the canonical unit. g/s, kg/h and lb/min never show. */
function provesCanonical(id: ChannelId, sample: Float64Array): boolean {
  const most = greatest(sample);
  if (sample.length === 0 || most === 0) return true;
  const [low, high] = channelEntry(id).plausible;
  if (dimensionOfChannel(id) === 'mass flow' || most < mustReach(id)) return false;
  if (isFuelTrim(id) && looksLikeFactor(sample)) return false;
  const end = dimensionOfChannel(id) === 'pressure' ? 1 : 0.9;
  return quantile(sample, 0.1) >= low && quantile(sample, end) <= high;
}

/** The source with its unit settled: from the header, else canonical where the values bear it out; an AFR shows by its size. */
export function settleUnit(
  id: ChannelId,
  source: ChannelSource,
  column: Column,
  notes: string[],
): ChannelSource | undefined {
  if (headerUnit(id, column) || dimensionOfChannel(id) === 'count') return source;
  const sample = sampleOf(column.values);
  const isAfr = sample.length > 0 && quantile(sample, 0.1) > 6 && quantile(sample, 0.9) < 25;
  if (dimensionOfChannel(id) === 'mixture' && isAfr) {
    notes.push(`"${column.name}" has no unit; its values are those of an air-fuel ratio.`);
    return { ...source, unit: 'AFR' };
  }
  if (provesCanonical(id, sample)) return source;
  const unit = channelEntry(id).unit;
  notes.push(
    `"${column.name}" has no unit and its values do not prove ${unit}; ${id} is left out. State its unit in a mapping.`,
  );
  return undefined;
}
