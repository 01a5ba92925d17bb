import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { lag1Autocorrelation } from '../../src/signal/autocorrelation.ts';
import { effectiveSampleSize } from '../../src/signal/effective-sample-size.ts';
import { MAVRO, MICHELSO, NUM_ACC_1, NUM_ACC_2, NUM_ACC_3, NUM_ACC_4 } from './nist-data.ts';
import { expectRelative } from './relative.ts';

// Source: NIST StRD, univariate summary statistics, certified values. The data of NumAcc3 and NumAcc4 are not exact in
// binary64, so that their deviation and correlation cannot be met to full digits.
describe('NIST StRD univariate', () => {
  test.each([
    ['Michelso', MICHELSO, 0.535199668621283, 1e-10],
    ['Mavro', MAVRO, 0.937989183438248, 1e-9],
    ['NumAcc1', NUM_ACC_1, -0.5, 1e-12],
    ['NumAcc2', NUM_ACC_2, -0.999, 1e-12],
    ['NumAcc3', NUM_ACC_3, -0.999, 1e-8],
    ['NumAcc4', NUM_ACC_4, -0.999, 1e-7],
  ] as const)('lag-1 autocorrelation of %s', (_, data, certified, tolerance) => {
    expectRelative(lag1Autocorrelation(data), certified, tolerance);
  });

  test.each([
    ['Michelso', MICHELSO, 299.8524, 0.0790105478190518, 1e-10],
    ['Mavro', MAVRO, 2.001856, 0.000429123454003053, 1e-10],
    ['NumAcc1', NUM_ACC_1, 10000002, 1, 1e-12],
    ['NumAcc2', NUM_ACC_2, 1.2, 0.1, 1e-12],
    ['NumAcc3', NUM_ACC_3, 1000000.2, 0.1, 1e-8],
    ['NumAcc4', NUM_ACC_4, 10000000.2, 0.1, 1e-7],
  ] as const)(
    'mean and deviation of %s by the statistics library',
    (_, data, certifiedMean, certifiedSd, tolerance) => {
      expectRelative(mean([...data]), certifiedMean, 1e-14);
      expectRelative(sampleStandardDeviation([...data]), certifiedSd, tolerance);
    },
  );

  test('a fast log is worth few independent readings: Mavro, fifty readings, not two', () => {
    // n(1 − r)/(1 + r) with the certified r, 1.6: barely more than one.
    expectRelative(effectiveSampleSize(MAVRO), (50 * (1 - 0.937989183438248)) / 1.937989183438248, 1e-8);
    expect(effectiveSampleSize(MAVRO)).toBeLessThan(2);
  });
});
