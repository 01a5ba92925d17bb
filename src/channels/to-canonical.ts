import { median } from '../signal/median.ts';
import { converter } from '../units/convert.ts';
import { lambdaFromAfr, lambdaFromPhi, PETROL_STOICHIOMETRIC_AFR } from '../units/mixture.ts';
import { CANONICAL_UNIT } from '../units/units.ts';
import type { CellSeries } from './cell-series.ts';
import { dimensionOfChannel, isFuelTrim } from './channel-kind.ts';
import type { ChannelUnit } from './channel-unit.ts';
import { finiteRows, pick } from './row-time.ts';

export interface CanonicalValues {
  /** Canonical unit; a pressure still has the reference it was logged with. NaN where there is no value. */
  readonly values: Float64Array;
  readonly notes: readonly string[];
}

const SAMPLED = 2000;

/** An evenly spaced share of the finite values, for questions that need no more. */
export function sampleOf(values: Float64Array): Float64Array {
  const finite = pick(values, finiteRows(values));
  const stride = Math.max(1, Math.floor(finite.length / SAMPLED));
  return stride === 1 ? finite : finite.filter((_, i) => i % stride === 0);
}

/** The first finite values, for questions about neighbours. */
export function sampleStart(values: Float64Array): Float64Array {
  return values.subarray(0, 5 * SAMPLED).filter(Number.isFinite);
}

/** A trim as a ratio is a factor around 1 or a share around 0; trims never reach half, so the values tell which. */
function trimFromRatio(values: Float64Array): { change: (value: number) => number; note: string } {
  const sample = sampleOf(values);
  const isFactor = sample.length > 0 && median(sample) > 0.5;
  return isFactor
    ? { change: (value) => (value - 1) * 100, note: 'The ratio is read as a factor: 1.00 is no correction.' }
    : { change: (value) => value * 100, note: 'The ratio is read as a share: 0.00 is no correction.' };
}

function conversion(
  series: CellSeries,
  unit: ChannelUnit,
  values: Float64Array,
): { change: (value: number) => number; note?: string } {
  const stoich = series.source.stoich ?? PETROL_STOICHIOMETRIC_AFR;
  const name = unit.unit.unit;
  if (name === 'AFR') {
    const why =
      series.source.stoich === undefined
        ? 'the usual value for petrol gauges, as none is stated'
        : 'as the mapping says';
    return { change: (value) => lambdaFromAfr(value, stoich), note: `AFR divided by ${stoich}, ${why}.` };
  }
  if (name === 'phi') return { change: lambdaFromPhi };
  if (dimensionOfChannel(series.id) === 'mixture') return { change: (value) => value };
  if (name === 'ratio' && isFuelTrim(series.id)) return trimFromRatio(values);
  return { change: converter(name, CANONICAL_UNIT[dimensionOfChannel(series.id)]) };
}

/** raw × scale + offset, then the unit. */
export function toCanonical(series: CellSeries, unit: ChannelUnit, raw: Float64Array): CanonicalValues {
  const { scale = 1, offset = 0 } = series.source;
  const scaled = scale === 1 && offset === 0 ? raw : raw.map((value) => value * scale + offset);
  const { change, note } = conversion(series, unit, scaled);
  const isSame = unit.unit.unit === CANONICAL_UNIT[dimensionOfChannel(series.id)];
  const values = isSame ? scaled : scaled.map(change);
  return { values, notes: note === undefined ? [] : [note] };
}
