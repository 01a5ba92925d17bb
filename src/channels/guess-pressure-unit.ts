import { formatNumber } from '../kernel/format-number.ts';
import { convert } from '../units/convert.ts';
import type { PressureReference } from '../units/recognise-unit.ts';
import type { Unit } from '../units/units.ts';
import { type Levels, levelsOf, type Trace, topSpeedOf } from './guess-evidence.ts';

export interface PressureReading {
  readonly unit: Unit;
  readonly reference: PressureReference;
  readonly why: string;
}

/** Units that engine controllers and loggers write pressures in (common practice, no source). */
const UNITS_TRIED: readonly Unit[] = ['kPa', 'mbar', 'bar', 'psi', 'inHg'];
const AIR_KPA = 100;
/** Air pressure anywhere a car is driven. */
const AIR_RANGE_KPA = [55, 108] as const;
/** Absolute manifold pressure of a warm throttled engine at idle; wild camshafts reach the upper end (common practice, no source). */
const IDLE_RANGE_KPA = [20, 63] as const;
/** Where it must come to be told from a log of idling alone, and where no road engine goes. */
const TOP_RANGE_KPA = [75, 500] as const;
/** Below this no intake manifold of a running engine is, against vacuum. */
const NEVER_BELOW_KPA = 8;

const within = (value: number, [low, high]: readonly [number, number]) => value >= low && value <= high;

function fits({ off, idle, low, top }: Levels, unit: Unit, reference: PressureReference): boolean {
  const absolute = (value: number) => convert(value, unit, 'kPa') + (reference === 'gauge' ? AIR_KPA : 0);
  if (off !== undefined) {
    const isAir = reference === 'gauge' ? Math.abs(absolute(off) - AIR_KPA) <= 6 : within(absolute(off), AIR_RANGE_KPA);
    if (!isAir) return false;
  }
  if (idle === undefined || !within(absolute(idle), IDLE_RANGE_KPA)) return false;
  return absolute(low) >= NEVER_BELOW_KPA - (reference === 'gauge' ? 12 : 0) && within(absolute(top), TOP_RANGE_KPA);
}

const number = (value: number, unit: Unit) => `${formatNumber(value, unit === 'kPa' ? 'kPa' : '')} ${unit}`;

function reasons({ off, idle, top }: Levels, unit: Unit): string {
  const parts = [
    off === undefined ? [] : `${number(off, unit)} with the engine off`,
    idle === undefined ? [] : `${number(idle, unit)} near idle`,
    `up to ${number(top, unit)}`,
  ];
  return parts.flat().join(', ');
}

/**
 * Unit and reference of a column by how manifold pressure behaves: air pressure (or zero, as gauge) with the engine off, a vacuum
 * near idle, up to air pressure or beyond under load. Undefined unless exactly one reading makes it so.
 * @param units those it may be in
 * @param references those it may be against
 */
export function manifoldReading(
  trace: Trace,
  engine: Trace | undefined,
  units: readonly Unit[] = UNITS_TRIED,
  references: readonly PressureReference[] = ['absolute', 'gauge'],
): PressureReading | undefined {
  if (trace.values.length === 0) return undefined;
  const levels = levelsOf(trace, engine);
  const readings = units.flatMap((unit) =>
    references.flatMap((reference): PressureReading[] =>
      fits(levels, unit, reference) ? [{ unit, reference, why: reasons(levels, unit) }] : [],
    ),
  );
  return readings.length === 1 ? readings[0] : undefined;
}

/** The unit of a logged air pressure by its size. */
export function airPressureUnit(level: number): Unit | undefined {
  return UNITS_TRIED.find((unit) => within(convert(level, unit, 'kPa'), AIR_RANGE_KPA));
}

/** Fuel pressure of port injection, gauge. */
const PORT_RAIL_KPA = [220, 560] as const;
/** Port injection holds its pressure, or lets it rise with boost; direct injection multiplies it under load. */
const PORT_RISE_MOST = 1.9;
/** The engine was seen at work from this speed on. */
const WORKED_RPM = 2500;

/** The unit of rail pressure where it shows: port injection that was seen beyond idle. Direct injection is too wide a range to tell. */
export function railPressureUnit(trace: Trace, engine: Trace | undefined): Unit | undefined {
  const { low, top, idle } = levelsOf(trace, engine);
  const rest = idle ?? low;
  if (topSpeedOf(engine) < WORKED_RPM || !(low > 0) || top > PORT_RISE_MOST * rest) return undefined;
  const found = (['kPa', 'mbar', 'bar', 'psi', 'MPa'] as const).filter((unit) =>
    within(convert(rest, unit, 'kPa'), PORT_RAIL_KPA),
  );
  return found.length === 1 ? found[0] : undefined;
}
