import type { Column } from '../read/table.ts';
import { quantile } from '../signal/quantile.ts';
import { convert } from '../units/convert.ts';
import { type RecognisedUnit, recogniseUnit } from '../units/recognise-unit.ts';
import { dimensionOf } from '../units/units.ts';
import { levelsOf, type Trace } from './guess-evidence.ts';
import { manifoldReading, type PressureReading } from './guess-pressure-unit.ts';
import { bracketedTexts } from './header-unit.ts';

/** The unit a header states, whatever the channel. */
function statedUnit(column: Column): RecognisedUnit | undefined {
  for (const text of [column.unitText ?? '', ...bracketedTexts(column.name)]) {
    const found = text === '' ? undefined : recogniseUnit(text);
    if (found) return found;
  }
  return undefined;
}

/** Boost that no vacuum reservoir and no intake before the throttle shows together with the vacuum of idling. */
const BOOST_SEEN_KPA = 115;

export interface BehaviourGuess {
  readonly reading: PressureReading;
  /** Whether the header says that it is a pressure. */
  readonly unitStated: boolean;
}

/** Manifold pressure by behaviour, whatever the column is called: see `manifoldReading`. Boost must be seen, else it may be a vacuum reservoir. */
export function behavesLikeManifold(
  column: Column,
  trace: Trace,
  engine: Trace | undefined,
): BehaviourGuess | undefined {
  if (trace.values.length === 0 || column.kind !== 'number') return undefined;
  const stated = statedUnit(column);
  const unit = stated?.unit;
  if (unit === 'AFR' || unit === 'phi' || (unit && dimensionOf(unit) !== 'pressure')) return undefined;
  const references = stated?.reference ? [stated.reference] : undefined;
  const reading = manifoldReading(trace, engine, unit ? [unit] : undefined, references);
  if (!reading) return undefined;
  const top = convert(levelsOf(trace, engine).top, reading.unit, 'kPa') + (reading.reference === 'gauge' ? 100 : 0);
  return top >= BOOST_SEEN_KPA ? { reading, unitStated: unit !== undefined } : undefined;
}

/** Idle, and the range of road engines, rpm. */
const IDLES_RPM = [450, 1300] as const;
const TOPS_RPM = [2000, 12000] as const;

/** Engine speed by behaviour: in rpm, it idles and revs. */
export function behavesLikeEngineSpeed(column: Column, values: Float64Array): boolean {
  const unit = statedUnit(column)?.unit;
  if (unit !== 'rpm' || values.length === 0) return false;
  const turning = values.filter((value) => value > 100);
  if (turning.length === 0) return false;
  const low = quantile(turning, 0.05);
  const top = quantile(values, 0.995);
  return low >= IDLES_RPM[0] && low <= IDLES_RPM[1] && top >= TOPS_RPM[0] && top <= TOPS_RPM[1];
}
