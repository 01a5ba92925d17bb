import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import { quantileExceeds } from '../signal/quantile-exceeds.ts';
import { convert } from '../units/convert.ts';
import type { Unit } from '../units/units.ts';
import { type Levels, levelsOf } from './guess-evidence.ts';
import { airPressureUnit } from './guess-pressure-unit.ts';
import type { Channel, Recording } from './recording.ts';
import { doubt, enough, mapWith } from './unit-doubt.ts';

const kpa = (value: number) => formatQuantity(value, 'kPa');

/** No engine idles above this, turbocharged diesels included (common practice, no source). */
const IDLE_MOST_KPA = 128;
/** Below this no intake manifold of a running engine is, against vacuum. */
const NEVER_BELOW_KPA = 8;
/** With the engine off, two atmospheres are air pressure counted twice. */
const TWICE_WITHIN_KPA = 15;

const asUnit = (unit: Unit, level: number) => convert(level, unit, 'kPa');

/** Absolute pressures that are sensible for a manifold at idle or with the engine off, kPa. */
const RESTS_KPA = [18, 108] as const;
const restsAs = (unit: Unit, level: number) => {
  const value = asUnit(unit, level);
  return value >= RESTS_KPA[0] && value <= RESTS_KPA[1];
};

/**
 * What a throttled engine's manifold does below and above the air: vacuum at idle, deepest of all on the overrun, and boost. Taken for kPa, psi and bar
 * leave it far too shallow: no throttled engine idles so near air pressure, and one without a throttle idles at it. Common practice, no source.
 */
const GAUGE: readonly {
  readonly unit: Unit;
  readonly idle: readonly [number, number];
  readonly deepest: number;
  readonly top: readonly [number, number];
}[] = [
  { unit: 'psi', idle: [-13, -4], deepest: -14.7, top: [2, 45] },
  { unit: 'bar', idle: [-0.85, -0.3], deepest: -1, top: [0.15, 3] },
];

/** Gauge pressure in psi or bar that was taken for kPa. */
function shallowGauge(channel: Channel, levels: Levels, airKpa: number): string | undefined {
  if (levels.idle === undefined) return undefined;
  const [idle, low, top] = [levels.idle, levels.low, levels.top].map((level) => level - airKpa);
  const fits = GAUGE.find(
    (one) => idle >= one.idle[0] && idle <= one.idle[1] && low >= one.deepest && top >= one.top[0] && top <= one.top[1],
  );
  if (!fits) return undefined;
  const seen = `reads ${formatQuantity(idle, 'kPa')} gauge near idle, never less than ${formatQuantity(low, 'kPa')} and never more than ${formatQuantity(top, 'kPa')}`;
  return doubt(channel, seen, `The column looks like ${fits.unit} gauge: ${mapWith('unit', `"${fits.unit}"`)}`);
}

/** A pressure that is some other unit taken for kPa, by the level it rests at. */
function wrongScale(channel: Channel, levels: Levels, airKpa: number): string | undefined {
  const rest = levels.off ?? levels.idle;
  if (rest === undefined) return undefined;
  const where = levels.off === undefined ? 'near idle' : 'with the engine off';
  if (rest > 2.5 * airKpa && restsAs('mbar', rest)) {
    const seen = `reads ${kpa(rest)} ${where}, ten times what it can be`;
    return doubt(channel, seen, `The column is in mbar: ${mapWith('unit', '"mbar"')}`);
  }
  if (levels.low > 0 && levels.top < 60 && levels.off !== undefined) {
    const unit = (['psi', 'inHg', 'bar'] as const).find(
      (one) => Math.abs(asUnit(one, rest) - airKpa) <= TWICE_WITHIN_KPA,
    );
    if (unit) {
      const seen = `reads ${kpa(rest)} ${where}, where air pressure is ${kpa(airKpa)}`;
      return doubt(channel, seen, `The column looks like ${unit} absolute: ${mapWith('unit', `"${unit}"`)}`);
    }
  }
  if (levels.low > 0 && levels.top < 4.5 && restsAs('bar', rest)) {
    const seen = `never reads above ${kpa(levels.top)}`;
    return doubt(channel, seen, `The column looks like bar absolute: ${mapWith('unit', '"bar"')}`);
  }
  return shallowGauge(channel, levels, airKpa);
}

/** Manifold pressure that was logged against one thing and mapped against the other. */
function wrongReference(channel: Channel, levels: Levels, airKpa: number): string | undefined {
  const { off, idle, low } = levels;
  const twice = off !== undefined && Math.abs(off - 2 * airKpa) <= TWICE_WITHIN_KPA;
  if (twice || (idle !== undefined && idle > IDLE_MOST_KPA)) {
    const seen = twice ? `reads ${kpa(off)} with the engine off` : `reads ${kpa(idle as number)} near idle`;
    return doubt(
      channel,
      `${seen}, where no manifold is above air pressure (${kpa(airKpa)})`,
      `The column looks absolute but is read as gauge: ${mapWith('reference', '"absolute"')}`,
    );
  }
  if (low >= NEVER_BELOW_KPA) return undefined;
  const seen =
    off === undefined
      ? `goes down to ${kpa(low)}, which no absolute manifold pressure does`
      : `reads ${kpa(off)} with the engine off and goes down to ${kpa(low)}`;
  return doubt(
    channel,
    seen,
    `The column looks like gauge but is read as absolute: ${mapWith('reference', '"gauge"')}`,
  );
}

function ofManifold({ channels, barometric }: Recording): string[] {
  const channel = enough(channels, 'manifold_pressure');
  if (!channel) return [];
  const levels = levelsOf(channel, channels.get('engine_speed'));
  const airKpa = barometric.source === 'engine-off manifold pressure' ? 101.325 : barometric.kpa;
  const found = wrongScale(channel, levels, airKpa) ?? wrongReference(channel, levels, airKpa);
  return found === undefined ? [] : [found];
}

function ofAir({ channels }: Recording): string[] {
  const channel = channels.get('barometric_pressure');
  if (!channel || channel.values.length === 0 || (channel.min >= 50 && channel.max <= 110)) return [];
  const level = median(channel.values);
  if (level >= 50 && level <= 110) return [];
  const unit = airPressureUnit(level);
  if (!unit || unit === 'kPa') return [];
  return [
    doubt(
      channel,
      `reads ${kpa(level)}, which is no air pressure`,
      `The column is in ${unit}: ${mapWith('unit', `"${unit}"`)}`,
    ),
  ];
}

/** Fuel rail pressure below this feeds no injector; in its proper unit it would. */
const RAIL_LEAST_KPA = 130;

function ofRail({ channels }: Recording): string[] {
  const channel = enough(channels, 'fuel_rail_pressure');
  if (!channel) return [];
  if (quantileExceeds(channel.values, 0.98, RAIL_LEAST_KPA)) return [];
  const usual = median(channel.values);
  const top = quantile(channel.values, 0.98);
  if (!(usual > 1) || top >= RAIL_LEAST_KPA) return [];
  const unit = usual < 10 ? 'bar' : 'psi';
  const fits = asUnit(unit, usual) >= 200 && asUnit(unit, usual) <= 700;
  if (!fits) return [];
  return [
    doubt(
      channel,
      `rests at ${kpa(usual)}, too little for any injector`,
      `The column looks like ${unit}: ${mapWith('unit', `"${unit}"`)}`,
    ),
  ];
}

/** Doubts about pressures: gauge or absolute, and units a factor apart. */
export const pressureDoubts = (recording: Recording): string[] => [
  ...ofManifold(recording),
  ...ofAir(recording),
  ...ofRail(recording),
];
