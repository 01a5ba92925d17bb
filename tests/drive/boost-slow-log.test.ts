import { describe, expect, it } from 'vitest';
import { fitBoostLine } from '../../src/drive/boost/line.ts';
import { robustPeak } from '../../src/drive/boost/peak.ts';

const spaced = (n: number, gapS: number) => Float64Array.from({ length: n }, (_, i) => i * gapS);

describe('the top of a rise in a slow log', () => {
  const knee = Float64Array.of(-80, -78, 113, 113, 112, 110);

  it.each([0.5, 1, 2])('is its highest sample, and no parabola over the knee, at samples %f s apart', (gapS) => {
    const peak = robustPeak(spaced(6, gapS), knee, 2, 6, 0.5);
    expect(peak.heightKpa).toBeLessThanOrEqual(113);
    expect(peak.lowKpa).toBeGreaterThan(111);
    expect(peak.highKpa).toBeGreaterThan(125);
  });

  it('is found between samples that draw its shape', () => {
    const time = spaced(11, 0.1);
    const top = robustPeak(
      time,
      time.map((t) => 100 - 200 * (t - 0.53) ** 2),
      0,
      11,
      0.05,
    );
    expect(top.heightKpa).toBeCloseTo(100, 0);
    expect(top.timeS).toBeCloseTo(0.53, 2);
  });
});

describe('the slope of a line through few samples', () => {
  // Kendall (1938): all n! orders of n unrelated values are alike, so three of them rise by chance once in six.
  it('is not proven by three that happen to rise within what noise does', () => {
    const line = fitBoostLine(
      spaced(3, 1),
      Float64Array.of(3985, 4700, 5227),
      Float64Array.of(103.5, 105.5, 108.9),
      2.3,
    );
    expect(line.slopeKpaPerRpm).toBeGreaterThan(0);
    expect(line.slopeLow).toBeLessThan(0);
  });

  it('is proven by three that rise far beyond noise', () => {
    const line = fitBoostLine(spaced(3, 1), Float64Array.of(4000, 5000, 6000), Float64Array.of(100, 115, 130), 0.5);
    expect(line.slopeLow).toBeGreaterThan(0.014);
    // sigma of a least-squares slope: noise over the root of the sum of squared distances (any textbook of statistics).
    expect(line.slopeLow).toBeCloseTo(0.015 - (1.96 * 0.5) / Math.sqrt(2e6), 6);
  });
});
