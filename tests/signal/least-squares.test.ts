import { describe, expect, it } from 'vitest';
import { leastSquares, residualSquare } from '../../src/signal/least-squares.ts';
import { NORRIS } from '../outside/nist-data.ts';

const y = NORRIS.map(([value]) => value);
const columns = [NORRIS.map(() => 1), NORRIS.map(([, x]) => x / 1000)];

describe('least squares', () => {
  // NIST StRD, Norris: B0 −0.262323073774029, B1 1.00211681802045, residual sum of squares 26.6173985294224.
  it('gives the certified line of NIST data', () => {
    const fit = leastSquares(columns, y);
    expect(fit?.coefficients[0]).toBeCloseTo(-0.262323073774029, 8);
    expect((fit?.coefficients[1] ?? 0) / 1000).toBeCloseTo(1.00211681802045, 10);
    expect(residualSquare(columns, y)).toBeCloseTo(26.6173985294224, 6);
  });

  // NIST StRD, Norris: standard error of B1 0.000429796848199937 with 34 degrees of freedom.
  it('gives the certified standard error', () => {
    const fit = leastSquares(columns, y);
    const variance = (residualSquare(columns, y) ?? 0) / 34;
    expect(Math.sqrt(variance * (fit?.inverse[1][1] ?? 0)) / 1000).toBeCloseTo(0.000429796848199937, 10);
  });

  it('says when columns cannot be told apart', () => {
    expect(leastSquares([columns[1], columns[1]], y)).toBeUndefined();
    expect(residualSquare([columns[1], columns[1]], y)).toBeUndefined();
    expect(leastSquares([columns[0]], [])).toBeUndefined();
  });

  it('refuses columns of other length', () => {
    expect(() => leastSquares([[1, 2]], [1])).toThrow(RangeError);
  });
});
