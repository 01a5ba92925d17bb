import { describe, expect, it } from 'vitest';
import { recogniseUnit } from '../../src/units/recognise-unit.ts';

describe('recogniseUnit', () => {
  it.each([
    ['psi', 'psi'],
    ['PSI', 'psi'],
    ['kPa', 'kPa'],
    ['kpa', 'kPa'],
    ['bar', 'bar'],
    ['mbar', 'mbar'],
    ['hPa', 'hPa'],
    ['inHg', 'inHg'],
    ['in. Hg', 'inHg'],
    ['mmHg', 'mmHg'],
    ['kg/cm2', 'kg/cm2'],
    ['kg/cm²', 'kg/cm2'],
    ['kgf/cm2', 'kg/cm2'],
    ['°C', 'degC'],
    ['degC', 'degC'],
    ['deg C', 'degC'],
    ['C', 'degC'],
    ['℃', 'degC'],
    ['Â°C', 'degC'],
    ['Ã‚Â°C', 'degC'],
    ['\uFFFDC', 'degC'],
    ['°F', 'degF'],
    ['degF', 'degF'],
    ['K', 'K'],
    ['km/h', 'km/h'],
    ['kph', 'km/h'],
    ['mph', 'mph'],
    ['rpm', 'rpm'],
    ['1/min', 'rpm'],
    ['min⁻¹', 'rpm'],
    ['U/min', 'rpm'],
    ['g/s', 'g/s'],
    ['kg/h', 'kg/h'],
    ['lb/min', 'lb/min'],
    ['ms', 'ms'],
    ['us', 'us'],
    ['µs', 'us'],
    ['μs', 'us'],
    ['Âµs', 'us'],
    ['usec', 'us'],
    ['s', 's'],
    ['sec', 's'],
    ['%', '%'],
    ['deg', 'deg'],
    ['°', 'deg'],
    ['Â°', 'deg'],
    ['°CA', 'deg'],
    ['deg BTDC', 'deg'],
    ['deg ATDC', 'deg after TDC'],
    ['V', 'V'],
    ['mV', 'mV'],
    ['AFR', 'AFR'],
    ['lambda', 'lambda'],
    ['λ', 'lambda'],
    ['Î»', 'lambda'],
    ['phi', 'phi'],
    ['N·m', 'N m'],
    ['lb-ft', 'lbf ft'],
    ['cc/min', 'cc/min'],
  ])('%s is %s', (text, unit) => {
    expect(recogniseUnit(text)).toEqual({ unit });
  });

  it.each([
    ['psig', 'psi', 'gauge'],
    ['psia', 'psi', 'absolute'],
    ['PSI (a)', 'psi', 'absolute'],
    ['kPa abs', 'kPa', 'absolute'],
    ['kPa(a)', 'kPa', 'absolute'],
    ['bar gauge', 'bar', 'gauge'],
    ['barg', 'bar', 'gauge'],
    ['psi-g', 'psi', 'gauge'],
  ])('%s is %s, %s', (text, unit, reference) => {
    expect(recogniseUnit(text)).toEqual({ unit, reference });
  });

  it.each(['', 'bank 1', 'A', 'MAP', '\uFFFDs', 'furlong', 'x y', 'constructor', '__proto__', 'toString'])(
    '"%s" is no unit',
    (text) => {
      expect(recogniseUnit(text)).toBeUndefined();
    },
  );
});
