import { describe, expect, it } from 'vitest';
import { parseQuantity } from '../../src/units/parse-quantity.ts';
import type { Dimension } from '../../src/units/units.ts';

const GOOD: readonly (readonly [string, Dimension, number, ('gauge' | 'absolute')?])[] = [
  ['15 psi abs', 'pressure', 103.42135939752542, 'absolute'],
  ['15psia', 'pressure', 103.42135939752542, 'absolute'],
  ['0.9 bar', 'pressure', 90],
  ['0,9 bar', 'pressure', 90],
  ['0,900 bar', 'pressure', 90],
  ['-2.5 psig', 'pressure', -17.2368932329, 'gauge'],
  ['43.5 psi', 'pressure', 299.9219422528237],
  ['640 cc/min', 'volume flow', 640],
  ['300 N m', 'torque', 300],
  ['300 Nm', 'torque', 300],
  ['220 lbf ft', 'torque', 298.279948632909],
  ['220 ft lb', 'torque', 298.279948632909],
  ['2.0 L', 'displacement', 2],
  ['1998 cc', 'displacement', 1.998],
  ['6900 rpm', 'engine speed', 6900],
  ['1350 kg', 'mass', 1350],
  ['1.93 m', 'length', 1.93],
  ['2000 ft', 'length', 609.6],
  ['0.66 m2', 'area', 0.66],
  ['12 V', 'voltage', 12],
  ['1.1 ms', 'time', 1.1],
  ['800 us', 'time', 0.8],
  ['10 %', 'percent', 10],
  ['0.05', 'mixture', 0.05],
  ['3', 'count', 3],
  ['60 degC', 'temperature', 60],
];

describe('parseQuantity', () => {
  for (const [text, dimension, value, reference] of GOOD) {
    it(`${text} as ${dimension} is ${value}`, () => {
      const quantity = parseQuantity(text, dimension);
      expect(quantity.value).toBeCloseTo(value, 9);
      expect(quantity.reference).toBe(reference);
    });
  }

  it.each([
    ['640', 'volume flow', '"640" has no unit. Write it as "640 cc/min".'],
    ['bar', 'pressure', '"bar" is not a number with a unit. Write it as "0.9 bar" or "15 psi abs".'],
    ['3 furlong', 'length', '"furlong" is not a unit known here. Write it as "1.93 m".'],
    ['2 kg', 'displacement', '"2 kg" is no displacement. Write it as "2.0 L".'],
    ['12.5 AFR', 'percent', '"12.5 AFR" is no percent. Write it as "10 %".'],
    [
      '6,900 rpm',
      'engine speed',
      '"6,900 rpm" can be read two ways: the comma may separate thousands or decimals. Write it as "6900 rpm".',
    ],
    ['', 'mass', '"" is not a number with a unit. Write it as "1350 kg".'],
    ['1e3 rpm', 'engine speed', '"e3 rpm" is not a unit known here. Write it as "6900 rpm".'],
    ['NaN bar', 'pressure', '"NaN bar" is not a number with a unit. Write it as "0.9 bar" or "15 psi abs".'],
  ] as const)('%s as %s is refused', (text, dimension, message) => {
    expect(() => parseQuantity(text, dimension)).toThrow(message);
  });
});
