import { describe, expect, it } from 'vitest';
import { saturationIn } from '../../src/drive/health/end-in-pull.ts';
import { type BoostLogSpec, boostDrive, firstOrder, secondOrder, spoolThen } from '../support/boost-signals.ts';

function topped(log: BoostLogSpec): (number | undefined)[] {
  const drive = boostDrive({ phaseS: 0.013, ...log });
  return drive.pulls.map((pull) => saturationIn(drive, 'manifold_pressure', pull)?.level);
}
const RATES = [5, 10, 20, 50];
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];

describe('a quiet sensor', () => {
  const settles = [firstOrder(80, 0.3, 0.1), firstOrder(80, 0.6, 0.1), secondOrder(80, 0.7, 6)];
  // Steps of usual loggers: 0.1, 0.69 (0.1 psi), 1 and 3.39 kPa (1 inHg).
  it.each([0.1, 0.69, 1, 3.39, 10])('in steps of %f kPa that settles flat is not at its top', (stepKpa) => {
    for (const rateHz of RATES) {
      for (const seed of SEEDS) {
        for (const noiseKpa of [0, 0.2 * stepKpa, 0.4 * stepKpa]) {
          const pulls = settles.map((truth) => ({ truth, seconds: 6 }));
          const found = topped({ pulls, rateHz, seed, noiseKpa, stepKpa });
          expect(found, `${rateHz} Hz, seed ${seed}, noise ${noiseKpa}`).toEqual([undefined, undefined, undefined]);
        }
      }
    }
  });
});

describe('a sensor at its top', () => {
  it.each([10, 20, 50])('is caught where the rise runs into it, at %i Hz', (rateHz) => {
    for (const seed of SEEDS) {
      for (const truth of [firstOrder(140, 0.5, 0.1), spoolThen(140, 1.2)]) {
        const pulls = [{ truth, seconds: 6 }];
        const [found] = topped({ pulls, rateHz, seed, noiseKpa: 0.6, stepKpa: 0.1, topKpa: 205 });
        expect(found, `seed ${seed}`).toBeCloseTo(205, 6);
      }
    }
  });
  it('is caught where boost creeps into it', () => {
    for (const seed of SEEDS) {
      const creeping = spoolThen(90, 1, (since) => 6 * since);
      const [found] = topped({
        pulls: [{ truth: creeping, seconds: 7 }],
        seed,
        noiseKpa: 0.6,
        stepKpa: 0.1,
        topKpa: 205,
      });
      expect(found).toBeCloseTo(205, 6);
    }
  });
  it('is caught at one byte whatever the noise', () => {
    const [found] = topped({ pulls: [{ truth: spoolThen(190, 1.5) }], noiseKpa: 0, stepKpa: 1, topKpa: 255 });
    expect(found).toBe(255);
  });
});

describe('an end that one pull shows', () => {
  it('counts for the other pulls that lie there too', () => {
    const pulls = [
      { truth: firstOrder(140, 0.5, 0.1), seconds: 6 },
      { truth: spoolThen(95, 1, (since) => (since > 3 ? 30 : 0)), seconds: 6 },
      { truth: spoolThen(60, 1), seconds: 6 },
    ];
    const [first, second, third] = topped({ pulls, rateHz: 20, noiseKpa: 0.6, stepKpa: 0.1, topKpa: 205 });
    expect(first).toBeCloseTo(205, 6);
    expect(second).toBeCloseTo(205, 6);
    expect(third).toBeUndefined();
  });
});
