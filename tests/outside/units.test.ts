import { describe, expect, it } from 'vitest';
import { convert, convertDifference } from '../../src/units/convert.ts';
import { lambdaFromAfr, lambdaFromPhi } from '../../src/units/mixture.ts';
import { parseQuantity } from '../../src/units/parse-quantity.ts';
import type { Unit } from '../../src/units/units.ts';

// NIST Special Publication 811, "Guide for the Use of the International System of Units", 2008, appendix B.8 (seven published digits),
// carried on from the exact definitions: inch 0.0254 m, pound 0.45359237 kg, standard gravity 9.80665 m/s2, atmosphere 101325 Pa,
// conventional mercury 13595.1 kg/m3, mile 1609.344 m, nautical mile 1852 m, US gallon 231 cubic inches.

type Row = readonly [value: number, from: Unit, to: Unit, expected: number];

const EXACT: readonly Row[] = [
  [1, 'bar', 'kPa', 100],
  [1, 'atm', 'kPa', 101.325],
  [1, 'kn', 'km/h', 1.852],
  [100, 'g/s', 'kg/h', 360],
  [60, 'L/h', 'cc/min', 1000],
];

const RELATIVE: readonly Row[] = [
  [1, 'psi', 'Pa', 6894.757293168361],
  [20, 'psi', 'kPa', 137.8951458634],
  [100, 'kPa', 'psi', 14.50377377302092],
  [1.5, 'bar', 'psi', 21.755660659531],
  [1, 'atm', 'psi', 14.69594877551345],
  [1, 'inHg', 'Pa', 3386.388640341],
  [1, 'mmHg', 'Pa', 133.322387415],
  [1, 'torr', 'Pa', 133.3223684210526],
  [1, 'atm', 'inHg', 29.9212555797],
  [29.92, 'inHg', 'kPa', 101.320748119],
  [750, 'mmHg', 'kPa', 99.99179056125],
  [1, 'inHg', 'psi', 0.4911541474703],
  [1, 'kg/cm2', 'kPa', 98.0665],
  [60, 'mph', 'km/h', 96.56064],
  [100, 'km/h', 'mph', 62.137119223733],
  [1, 'mph', 'm/s', 0.44704],
  [1, 'kn', 'm/s', 0.5144444444444],
  [1, 'kn', 'mph', 1.150779448024],
  [255, 'km/h', 'mph', 158.4496540205],
  [1, 'lb/min', 'g/s', 7.559872833333],
  [40, 'lb/min', 'g/s', 302.3949133333],
  [500, 'kg/h', 'g/s', 138.8888888889],
  [100, 'g/s', 'lb/min', 13.22773573109],
  [1, 'lb/h', 'g/s', 0.1259978805556],
  [1, 'gal/h', 'L/h', 3.785411784],
  [1, 'hp', 'W', 745.6998715822702],
  [1, 'PS', 'W', 735.49875],
  [1, 'hp', 'PS', 1.013869665424],
  [300, 'hp', 'kW', 223.7099614747],
  [300, 'PS', 'kW', 220.649625],
  [300, 'kW', 'hp', 402.3066268785],
  [300, 'kW', 'PS', 407.8864851912],
  [1, 'lbf ft', 'N m', 1.3558179483314],
  [300, 'lbf ft', 'N m', 406.7453844994],
  [400, 'N m', 'lbf ft', 295.0248597109],
];

const ABSOLUTE: readonly Row[] = [
  [0, 'degC', 'degF', 32],
  [0, 'degC', 'K', 273.15],
  [-40, 'degC', 'degF', -40],
  [-40, 'degC', 'K', 233.15],
  [25, 'degC', 'degF', 77],
  [25, 'degC', 'K', 298.15],
  [100, 'degC', 'degF', 212],
  [100, 'degC', 'K', 373.15],
  [60, 'degC', 'degF', 140],
  [60, 'degC', 'K', 333.15],
  [60, 'degF', 'degC', 15.5555555556],
  [-273.15, 'degC', 'degF', -459.67],
  [-273.15, 'degC', 'K', 0],
];

const name = ([value, from, to, expected]: Row) => `${value} ${from} = ${expected} ${to}`;

describe('unit conversion against NIST SP 811 and the exact definitions', () => {
  for (const row of EXACT) it(name(row), () => expect(convert(row[0], row[1], row[2])).toBe(row[3]));
  for (const row of RELATIVE) {
    it(name(row), () => expect(Math.abs(convert(row[0], row[1], row[2]) / row[3] - 1)).toBeLessThan(2e-12));
  }
  for (const row of ABSOLUTE) it(name(row), () => expect(convert(row[0], row[1], row[2])).toBeCloseTo(row[3], 9));

  it('agrees with the seven digits SP 811 prints', () => {
    expect(convert(1, 'psi', 'Pa').toPrecision(7)).toBe('6894.757');
    expect(convert(1, 'inHg', 'Pa').toPrecision(7)).toBe('3386.389');
    expect(convert(1, 'mmHg', 'Pa').toPrecision(7)).toBe('133.3224');
    expect(convert(1, 'lbf ft', 'N m').toPrecision(7)).toBe('1.355818');
    expect(convert(1, 'hp', 'W').toPrecision(7)).toBe('745.6999');
  });

  it('a temperature difference has no offset: 20 degC of rise is 36 degF and 20 K', () => {
    expect(convertDifference(20, 'degC', 'degF')).toBe(36);
    expect(convertDifference(20, 'degC', 'K')).toBe(20);
  });

  it('gauge is absolute minus barometric pressure: 220 kPa at 98 kPa is 17.6946040031 psi of boost', () => {
    expect(convert(220 - 98, 'kPa', 'psi')).toBeCloseTo(17.6946040031, 9);
  });

  it('35 kPa absolute at the standard atmosphere is 19.5857614244 inHg of vacuum', () => {
    expect(convert(101.325 - 35, 'kPa', 'inHg')).toBeCloseTo(19.5857614244, 9);
  });

  it('power is torque times angular speed: 500 N m at 5000 rpm is 261.79938779915 kW, 400 lbf ft at 5500 rpm 418.87902047864 hp', () => {
    const angularSpeed = (rpm: number) => convert(rpm, 'rpm', 'rad/s');
    expect((500 * angularSpeed(5000)) / 1000).toBeCloseTo(261.79938779915, 9);
    const watts = convert(400, 'lbf ft', 'N m') * angularSpeed(5500);
    expect(convert(watts, 'W', 'hp')).toBeCloseTo(418.87902047864, 9);
  });

  it('the constants 9549 and 5252 follow', () => {
    expect(1000 / convert(1, 'rpm', 'rad/s')).toBeCloseTo(9549.2965855137, 8);
    expect(550 / convert(1, 'rpm', 'rad/s')).toBeCloseTo(5252.1131220325, 8);
  });

  it('fuel flow by mass needs the density of the fuel', () => {
    // 453.59237 / (60 × density): densities of n-heptane, petrol, ethanol from memory.
    for (const [density, expected] of [
      [0.684, 11.0524456628],
      [0.72, 10.4998233796],
      [0.745, 10.1474803132],
      [0.75, 10.0798304444],
      [0.789, 9.58158787495],
    ]) {
      expect((convert(1, 'lb/h', 'g/min') as number) / density).toBeCloseTo(expected, 9);
    }
  });

  it('an injector rated in lb/h is read with the trade’s 10.5 cc/min (common practice, no source)', () => {
    expect(parseQuantity('1 lb/h', 'volume flow').value).toBe(10.5);
    expect(convert(1, 'lb/h', 'g/min') / 10.5).toBeCloseTo(0.7199878888889, 12);
  });
});

describe('mixture by definition: lambda = AFR / stoichiometric AFR, phi = 1 / lambda', () => {
  it.each([
    [11.5, 14.7, 0.78231292517],
    [11.76, 14.7, 0.8],
    [11.68, 14.6, 0.8],
    [7.2, 9.0, 0.8],
    [12.5, 14.7, 0.850340136054],
    [12.5, 14.6, 0.856164383562],
  ])('AFR %d on a scale of %d is lambda %d', (afr, stoich, expected) => {
    expect(lambdaFromAfr(afr, stoich)).toBeCloseTo(expected, 10);
  });

  it('agrees with published rows of a fuel comparison table (petrol phi 1.176, E85 phi 1.40)', () => {
    expect(Math.abs(lambdaFromPhi(1.176) - 0.8503)).toBeLessThan(0.0005);
    expect(Math.abs(lambdaFromAfr(6.975, 9.765) - 0.7143)).toBeLessThan(0.0005);
    expect(Math.abs(lambdaFromPhi(1.4) - 0.7143)).toBeLessThan(0.0005);
  });
});
