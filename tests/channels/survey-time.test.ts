import { describe, expect, it } from 'vitest';
import { timeHealth } from '../../src/channels/survey-time.ts';

const every = (n: number, step: number, from = 0) => Array.from({ length: n }, (_, i) => from + i * step);

describe('timeHealth', () => {
  it('a steady clock has nothing to tell', () => {
    const health = timeHealth(Float64Array.from(every(101, 0.1)));
    expect(health).toMatchObject({ repeats: 0, backward: 0, gaps: 0, stretches: 1, notes: [] });
    expect(health.durationS).toBeCloseTo(10, 9);
    expect(health.intervalS).toBeCloseTo(0.1, 9);
    expect(health.jitter).toBeLessThan(1e-6);
  });

  it('counts gaps, repeats and steps back, with the largest of each', () => {
    const stamps = [...every(50, 0.1), ...every(50, 0.1, 12), 16.9, 16.9, ...every(50, 0.1, 2)];
    const health = timeHealth(Float64Array.from(stamps));
    expect(health).toMatchObject({ gaps: 1, repeats: 2, backward: 1, stretches: 3 });
    expect(health.longestGapS).toBeCloseTo(7.1, 6);
    expect(health.farthestBackS).toBeCloseTo(14.9, 6);
  });

  it('jitter is the robust spread of the steps: 1.4826 MAD over the median', () => {
    const stamps = [0];
    for (let i = 0; i < 400; i++) stamps.push(stamps[i] + [0.08, 0.1, 0.12][i % 3]);
    expect(timeHealth(Float64Array.from(stamps)).jitter).toBeCloseTo((1.4826 * 0.02) / 0.1, 3);
  });
});
