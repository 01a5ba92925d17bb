import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import type { Unit } from '../units/units.ts';
import { type ChannelId, channelEntry } from './catalogue.ts';
import { dimensionOfChannel, isFuelTrim, isStatusLike } from './channel-kind.ts';
import { type Evidence, levelsOf, type Trace, topSpeedOf } from './guess-evidence.ts';
import { airPressureUnit, manifoldReading, railPressureUnit } from './guess-pressure-unit.ts';
import { coolantUnit, type TemperatureReading } from './guess-temperature-unit.ts';
import type { ChannelSource } from './mapping-schema.ts';

/** What the unit of a column without one is, as the numbers show it. */
export interface UnitReading extends Pick<ChannelSource, 'unit' | 'reference'> {
  readonly why: string;
}

/** What is known of the whole log when a unit is settled. */
export interface UnitContext {
  readonly evidence: Evidence;
  /** The unit of the other temperatures, where a header or the coolant tells it. */
  readonly temperature: TemperatureReading | undefined;
  /** Fuel trims without a unit are judged together. */
  readonly trims: readonly Trace[];
  /** Unit and reference of manifold pressure, for its target. */
  readonly manifold: UnitReading | undefined;
}

const greatest = (values: Float64Array) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const isAllZero = (values: Float64Array) => values.every((value) => value === 0);

const within = (value: number, low: number, high: number) => value >= low && value <= high;

/** Inside the plausible range, strays aside. */
function isPlausible(id: ChannelId, values: Float64Array): boolean {
  const [low, high] = channelEntry(id).plausible;
  return quantile(values, 0.1) >= low && quantile(values, 0.9) <= high;
}

/** Largest value of a share; a percentage that moved at all goes beyond it. */
const SHARE_TOP = 1.3;
/** The engine was seen at work from this speed on. */
const WORKED_RPM = 2500;

function percentUnit(id: ChannelId, { values }: Trace, engine: Trace | undefined): UnitReading | undefined {
  const top = greatest(values);
  if (top > 1.5)
    return isPlausible(id, values) ? { unit: '%', why: `values up to ${shown(top)} are per cent` } : undefined;
  if (isAllZero(values)) return { unit: '%', why: 'it stays at zero' };
  const moves = quantile(values, 0.99) - quantile(values, 0.01) >= 0.05;
  const isShare = top <= SHARE_TOP && moves && topSpeedOf(engine) >= WORKED_RPM && id !== 'ethanol_content';
  return isShare ? { unit: 'ratio', why: `values from 0 to ${shown(top)} over a drive are a share of one` } : undefined;
}

/** Trims beyond one are per cent; around one they are factors, and ones that move but stay far below one are shares. */
function trimUnit(own: Trace, all: readonly Trace[]): UnitReading | undefined {
  if (own.values.length > 0 && quantile(own.values, 0.02) > 0.5 && quantile(own.values, 0.98) < 1.5) {
    const around = all.every(({ values }) => values.length === 0 || within(median(values), 0.5, 1.5));
    const isFactor = around && all.some(({ values }) => new Set(values).size >= 5);
    return isFactor ? { unit: 'ratio', why: 'it lies around 1, as a factor does' } : undefined;
  }
  const top = all.reduce((most, { values }) => Math.max(most, greatest(values)), 0);
  if (top >= 1) return top <= 100 ? { unit: '%', why: `trims up to ${shown(top)} are per cent` } : undefined;
  if (top === 0) return { unit: '%', why: 'it stays at zero' };
  const moves = all.some(({ values }) => new Set(values).size >= 5);
  return top < 0.35 && moves
    ? { unit: 'ratio', why: `trims that move but never beyond ${shown(top)} are shares` }
    : undefined;
}

const WIDTH_UNITS: readonly (readonly [Unit, number])[] = [
  ['ms', 1],
  ['us', 1000],
  ['s', 0.001],
];
/** Pulse width in milliseconds: near idle, and at most (common practice, no source). */
const IDLE_WIDTH_MS = [0.4, 12] as const;
const TOP_WIDTH_MS = [1, 80] as const;

function widthUnit(trace: Trace, engine: Trace | undefined): UnitReading | undefined {
  const running = { time: trace.time, values: trace.values.filter((value) => value > 0) };
  if (running.values.length === 0) return isAllZero(trace.values) ? { unit: 'ms', why: 'it stays at zero' } : undefined;
  const { idle, top } = levelsOf(trace, engine);
  const rest = idle !== undefined && idle > 0 ? idle : quantile(running.values, 0.1);
  const found = WIDTH_UNITS.filter(
    ([, each]) => within(rest / each, ...IDLE_WIDTH_MS) && within(top / each, ...TOP_WIDTH_MS),
  );
  const [unit] = found[0] ?? [];
  return found.length === 1 && unit
    ? { unit, why: `${shown(rest)} near idle and up to ${shown(top)} fit ${unit}` }
    : undefined;
}

function temperature(id: ChannelId, trace: Trace, context: UnitContext): UnitReading | undefined {
  const known = id === 'coolant_temperature' ? (coolantUnit(trace) ?? context.temperature) : context.temperature;
  if (!known) return undefined;
  const [low, high] = channelEntry(id).plausible;
  const celsius = (value: number) =>
    known.unit === 'degC' ? value : known.unit === 'K' ? value - 273.15 : ((value - 32) * 5) / 9;
  const fits = celsius(quantile(trace.values, 0.1)) >= low && celsius(quantile(trace.values, 0.9)) <= high;
  return fits ? known : undefined;
}

function pressure(id: ChannelId, trace: Trace, context: UnitContext): UnitReading | undefined {
  const engine = context.evidence.get('engine_speed');
  if (id === 'barometric_pressure') {
    const unit = airPressureUnit(median(trace.values));
    return unit && { unit, why: `${shown(median(trace.values))} is air pressure in ${unit}` };
  }
  if (id.startsWith('fuel_rail')) {
    const unit = railPressureUnit(trace, engine);
    return unit && { unit, why: `${shown(median(trace.values))} that hardly moves is port fuel pressure in ${unit}` };
  }
  if (id === 'manifold_pressure_target') return context.manifold;
  return manifoldReading(trace, engine);
}

const shown = (value: number) => String(Number(value.toPrecision(3)));

/** The unit of a column whose header has none, as the numbers show it; undefined where they could be in several. Mass flow never shows. */
export function unitByData(id: ChannelId, trace: Trace, context: UnitContext): UnitReading | undefined {
  const { values } = trace;
  const canonical: UnitReading = { why: 'its values fit' };
  if (isStatusLike(id)) return canonical;
  const dimension = dimensionOfChannel(id);
  if (values.length === 0) return dimension === 'pressure' || dimension === 'mass flow' ? undefined : canonical;
  const engine = context.evidence.get('engine_speed');
  switch (dimension) {
    case 'pressure':
      return pressure(id, trace, context);
    case 'temperature':
      return temperature(id, trace, context);
    case 'percent':
      return isFuelTrim(id) ? trimUnit(trace, context.trims) : percentUnit(id, trace, engine);
    case 'time':
      return widthUnit(trace, engine);
    case 'mass flow':
      return undefined;
    case 'speed':
      if (!isPlausible(id, values)) return undefined;
      return context.temperature?.unit === 'degF'
        ? { unit: 'mph', why: 'the log is in degrees Fahrenheit, so road speed is taken as mph' }
        : canonical;
    case 'voltage':
      return within(median(values), 5000, 18000)
        ? { unit: 'mV', why: 'its values are millivolts' }
        : plausibly(id, values);
    case 'mixture':
      return mixtureUnit(id, values);
    default:
      return plausibly(id, values);
  }
}

/** Burnt mixtures lie around stoichiometric, whatever overrun and free air read. */
function mixtureUnit(id: ChannelId, values: Float64Array): UnitReading | undefined {
  const usual = median(values);
  if (within(usual, 6, 25) && quantile(values, 0.05) > 6) {
    return { unit: 'AFR', why: 'its values are those of an air-fuel ratio' };
  }
  const [low, high] = channelEntry(id).plausible;
  return within(usual, low, high) && quantile(values, 0.05) >= low ? { why: 'its values fit' } : undefined;
}

const plausibly = (id: ChannelId, values: Float64Array): UnitReading | undefined =>
  isPlausible(id, values) ? { why: 'its values fit' } : undefined;
