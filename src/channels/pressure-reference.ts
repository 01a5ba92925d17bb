import { formatQuantity } from '../kernel/format-number.ts';
import { holdAt } from '../signal/interpolate.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import type { PressureReference } from '../units/recognise-unit.ts';
import type { CellSeries } from './cell-series.ts';
import { canonicalReference } from './channel-kind.ts';
import type { ChannelUnit } from './channel-unit.ts';
import { referenceByName } from './header-unit.ts';
import { shownColumn } from './personal-column.ts';
import { finiteRows, pick } from './row-time.ts';
import { sampleOf } from './to-canonical.ts';

/** A channel on its way: converted, but its reference not settled. */
export interface Pressure {
  readonly series: CellSeries;
  readonly unit: ChannelUnit;
  readonly values: Float64Array;
}

export interface Reference {
  readonly reference: PressureReference;
  readonly note?: string;
}

const kpa = (value: number) => formatQuantity(value, 'kPa');

/** Below this no intake manifold of a running engine is, measured against vacuum: even overrun leaves more. */
const NEVER_ABSOLUTE_KPA = 8;
/** Air pressure anywhere a car is driven. */
const AIR_KPA = [50, 110] as const;
/** Manifold pressure against vacuum at light load, and against the air around. */
const LIGHT_LOAD_ABSOLUTE_KPA = [15, 85] as const;
const IDLE_RPM = [300, 1300] as const;
const FEWEST = 5;

/** Engine speed at the samples of a pressure. */
function speedAt(pressure: Pressure, engine: Pressure): Float64Array {
  const known = finiteRows(engine.values);
  return holdAt(pick(engine.series.time, known), pick(engine.values, known), pressure.series.time, 2);
}

/** Pressures while engine speed lies in a band. */
function whileSpeed({ values }: Pressure, speed: Float64Array, low: number, high: number): Float64Array {
  const found = new Float64Array(values.length);
  let count = 0;
  for (let i = 0, n = values.length; i < n; i++) {
    const rpm = speed[i];
    if (rpm >= low && rpm <= high && Number.isFinite(values[i])) found[count++] = values[i];
  }
  return found.subarray(0, count);
}

const within = (value: number, [low, high]: readonly [number, number]) => value >= low && value <= high;

/** What the values themselves prove about their reference; nothing where they could be either. */
export function referenceByData(pressure: Pressure, engine: Pressure | undefined): Reference | undefined {
  const sample = sampleOf(pressure.values);
  if (sample.length === 0) return undefined;
  const low = quantile(sample, 0.02);
  if (low < NEVER_ABSOLUTE_KPA) {
    return {
      reference: 'gauge',
      note: `Taken as gauge: values go down to ${kpa(low)}, which no absolute manifold pressure does.`,
    };
  }
  if (!engine) return undefined;
  const speed = speedAt(pressure, engine);
  const off = whileSpeed(pressure, speed, 0, 0);
  if (off.length >= FEWEST && within(median(off), AIR_KPA)) {
    return {
      reference: 'absolute',
      note: `Taken as absolute: ${kpa(median(off))} with the engine off is air pressure.`,
    };
  }
  const idle = whileSpeed(pressure, speed, ...IDLE_RPM);
  if (idle.length >= FEWEST && within(median(idle), LIGHT_LOAD_ABSOLUTE_KPA)) {
    return { reference: 'absolute', note: `Taken as absolute: ${kpa(median(idle))} near idle is no boost.` };
  }
  return undefined;
}

const unsure = (pressure: Pressure) =>
  `${shownColumn(pressure.series.column.name)} may be gauge or absolute and the log does not tell; ${pressure.series.id} is left out. State "reference" in the mapping.`;

/**
 * Gauge or absolute: as the mapping, the unit (`psig`) or the name says; else as the values prove. Undecided kilopascals are
 * absolute as in SAE J1979; anything else undecided is left out, with the sentence that says so.
 */
export function manifoldReference(
  pressure: Pressure,
  engine: Pressure | undefined,
  sameController: PressureReference | undefined,
): Reference | { readonly leftOut: string } {
  const { series, unit } = pressure;
  const told = series.source.reference ?? unit.unit.reference ?? referenceByName(series.id, series.column.name);
  const byData = referenceByData(pressure, engine);
  if (told !== undefined) {
    const doubt = byData && byData.reference !== told && series.id === 'manifold_pressure';
    if (!doubt) return { reference: told };
    return {
      reference: told,
      note: `Read as ${told} as stated, but the values look ${byData.reference}. Check "reference".`,
    };
  }
  if (sameController)
    return { reference: sameController, note: `Taken as ${sameController}, as manifold pressure is.` };
  if (byData) return byData;
  const isKpa = unit.unit.unit === 'kPa';
  if (isKpa) return { reference: 'absolute', note: 'No reference is stated; taken as absolute.' };
  return { leftOut: unsure(pressure) };
}

/** Fuel rail pressure is gauge unless the mapping, the unit or the name says absolute. */
export function railReference({ series, unit }: Pressure): Reference {
  const told = series.source.reference ?? unit.unit.reference ?? referenceByName(series.id, series.column.name);
  if (told) return { reference: told };
  return { reference: canonicalReference(series.id), note: 'No reference is stated; taken as gauge.' };
}
