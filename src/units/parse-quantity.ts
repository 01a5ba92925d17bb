import { UserError } from '../kernel/user-error.ts';
import { convert } from './convert.ts';
import { type PressureReference, recogniseUnit } from './recognise-unit.ts';
import { CANONICAL_UNIT, type Dimension, dimensionOf, type Unit } from './units.ts';

export interface Quantity {
  /** In the canonical unit of its dimension. */
  readonly value: number;
  /** The unit as written. */
  readonly unit: Unit;
  /** Only for a pressure that says which: `psi abs`, `psig`. */
  readonly reference?: PressureReference;
}

const EXAMPLES: Record<Dimension, string> = {
  pressure: '"0.9 bar" or "15 psi abs"',
  temperature: '"60 degC"',
  speed: '"100 km/h"',
  'mass flow': '"120 g/s"',
  'volume flow': '"640 cc/min"',
  displacement: '"2.0 L"',
  torque: '"300 N m"',
  power: '"150 kW"',
  mass: '"1350 kg"',
  length: '"1.93 m"',
  area: '"0.66 m2"',
  angle: '"2 deg"',
  time: '"1.1 ms"',
  mixture: '"0.82"',
  percent: '"10 %"',
  voltage: '"12 V"',
  'engine speed': '"6900 rpm"',
  count: '"1"',
};

/**
 * One pound an hour of petrol in cc/min, as injector makers' two ratings are commonly related (common practice, no source;
 * it stands for a density of 0.72 kg/L).
 */
const CC_MIN_PER_LB_H = 10.5;

const NUMBER_THEN_UNIT = /^([+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+))\s*(\D.*)?$/;
const THOUSANDS = /^[+-]?[1-9]\d{0,2}(?:[.,]\d{3})*,\d{3}\s*(?:\D|$)/;

/** Counts and mixtures are plain numbers; everything else needs its unit. */
const mayStandBare = (dimension: Dimension) => dimension === 'count' || dimension === 'mixture';

/** A longer text is no quantity; it is not looked at closely. */
const LONGEST_TEXT = 100;

const shown = (text: string) => `"${text.length > 40 ? `${text.slice(0, 40)}…` : text}"`;

/**
 * `"15 psi abs"`, `"0,9 bar"`, `"640 cc/min"`, `"300 Nm"` → the value in the canonical unit of the dimension, and for a pressure its
 * reference where the text says one. A decimal comma is fine; a comma before exactly three digits is refused, because it
 * may separate thousands. Throws a UserError without a place; the caller knows the place.
 */
export function parseQuantity(text: string, dimension: Dimension): Quantity {
  const example = `Write it as ${EXAMPLES[dimension]}.`;
  const trimmed = text.trim();
  if (trimmed.length > LONGEST_TEXT) {
    throw new UserError(`${shown(text)} is not a number with a unit.`, undefined, example);
  }
  if (THOUSANDS.test(trimmed)) {
    throw new UserError(
      `${shown(text)} can be read two ways: the comma may separate thousands or decimals.`,
      undefined,
      example,
    );
  }
  const match = NUMBER_THEN_UNIT.exec(trimmed);
  if (!match) throw new UserError(`${shown(text)} is not a number with a unit.`, undefined, example);
  const raw = Number(match[1].replace(',', '.'));
  const canonical = CANONICAL_UNIT[dimension];
  if (match[2] === undefined) {
    if (mayStandBare(dimension)) return { value: raw, unit: canonical };
    throw new UserError(`${shown(text)} has no unit.`, undefined, example);
  }
  const found = recogniseUnit(match[2]);
  if (!found) throw new UserError(`${shown(match[2])} is not a unit known here.`, undefined, example);
  if (dimension === 'volume flow' && found.unit === 'lb/h') return { value: raw * CC_MIN_PER_LB_H, unit: 'cc/min' };
  if (dimension === 'mixture' && found.unit === 'ratio') return { value: raw, unit: canonical };
  if (found.unit === 'AFR' || found.unit === 'phi' || dimensionOf(found.unit) !== dimension) {
    throw new UserError(`${shown(text)} is no ${dimension}.`, undefined, example);
  }
  const value = convert(raw, found.unit, canonical);
  return found.reference === undefined
    ? { value, unit: found.unit }
    : { value, unit: found.unit, reference: found.reference };
}
