import { type RecognisedUnit, recogniseUnit } from '../units/recognise-unit.ts';
import { CANONICAL_UNIT, type Dimension, dimensionOf } from '../units/units.ts';
import { type ChannelId, channelEntry } from './catalogue.ts';

const DIMENSION_OF_CANONICAL: Record<string, Dimension> = {
  ...Object.fromEntries(Object.entries(CANONICAL_UNIT).map(([dimension, unit]) => [unit, dimension as Dimension])),
  ratio: 'mixture',
  '0/1': 'count',
  code: 'count',
  number: 'count',
};

export const dimensionOfChannel = (id: ChannelId): Dimension => DIMENSION_OF_CANONICAL[channelEntry(id).unit];

/** Channels whose value is a state or a running count: every sample counts, however often it repeats. */
export const isStatusLike = (id: ChannelId): boolean => dimensionOfChannel(id) === 'count';

export const isFuelTrim = (id: ChannelId): boolean =>
  id.startsWith('short_term_fuel_trim_') || id.startsWith('long_term_fuel_trim_');

/** Pressures that may be written as gauge or absolute. Barometric pressure is absolute by nature. */
export const mayBeGauge = (id: ChannelId): boolean =>
  dimensionOfChannel(id) === 'pressure' && id !== 'barometric_pressure';

/** The reference of the channel's canonical unit: fuel rail pressure travels as gauge, air pressures as absolute. */
export const canonicalReference = (id: ChannelId): 'gauge' | 'absolute' =>
  id.startsWith('fuel_rail_pressure') ? 'gauge' : 'absolute';

function fits(id: ChannelId, found: RecognisedUnit): boolean {
  const dimension = dimensionOfChannel(id);
  if (dimension === 'mixture') return ['AFR', 'phi', 'lambda', 'ratio'].includes(found.unit);
  if (found.unit === 'AFR' || found.unit === 'phi') return false;
  return dimensionOf(found.unit) === dimension;
}

/** A bare degree on a temperature may be Celsius or Fahrenheit, so it tells nothing. */
const isBareDegree = (id: ChannelId, found: RecognisedUnit) =>
  found.unit === 'deg' && dimensionOfChannel(id) === 'temperature';

/** What a unit text means on a channel: a unit that fits it, a known unit that cannot be right, or nothing known. */
export function unitOn(id: ChannelId, text: string): RecognisedUnit | 'wrong' | undefined {
  if (text.trim() === channelEntry(id).unit) {
    return { unit: CANONICAL_UNIT[dimensionOfChannel(id)] };
  }
  const found = recogniseUnit(text);
  if (!found || isBareDegree(id, found)) return undefined;
  return fits(id, found) ? found : 'wrong';
}

const EXAMPLES: Partial<Record<Dimension, string>> = {
  pressure: 'kPa, bar, mbar, psi, inHg',
  temperature: 'degC, degF, K',
  speed: 'km/h, mph, m/s',
  'mass flow': 'g/s, kg/h, lb/min',
  angle: 'deg, deg ATDC',
  time: 'ms, us, s',
  mixture: 'lambda, AFR, phi',
  percent: '%, ratio',
  voltage: 'V, mV',
  'engine speed': 'rpm, Hz',
};

/** Units that would do, for a message. */
export const unitsThatDo = (id: ChannelId): string => EXAMPLES[dimensionOfChannel(id)] ?? channelEntry(id).unit;
