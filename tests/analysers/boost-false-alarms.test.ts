import { describe, expect, it } from 'vitest';
import { seededRandom } from '../signal/seeded-random.ts';
import { bump, firstOrder, secondOrder, spoolThen } from '../support/boost-signals.ts';
import { boostVerdicts } from '../support/boost-verdicts.ts';

/** Cars of every kind, from one seed: level, spool, taper, length, noise, steps and rate. */
function aCar(seed: number) {
  const random = seededRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random();
  const rates = [5, 10, 20, 50, 100];
  const level = between(40, 170);
  const spoolS = between(0.6, 1.8);
  const seconds = between(4.5, 7.5);
  return {
    level,
    spoolS,
    seconds,
    settledS: seconds - 0.15 - spoolS,
    taperKpa: random() < 0.4 ? between(0, 0.2) * level : 0,
    log: {
      rateHz: rates[Math.floor(random() * rates.length)],
      noiseKpa: between(0.3, 1.5),
      stepKpa: random() < 0.4 ? 1 : 0,
      phaseS: between(0, 0.05),
      seed,
    },
    random,
  };
}

const SEEDS = Array.from({ length: 100 }, (_, i) => i + 1);

describe('200 healthy pulls', () => {
  it('give no false alarm', () => {
    const alarms: string[] = [];
    for (const seed of SEEDS) {
      const { level, spoolS, seconds, settledS, taperKpa, log } = aCar(seed);
      const ramp = spoolThen(level, spoolS, (s) => (-taperKpa * s) / settledS);
      const lag = firstOrder(level, spoolS / 4, 0.2);
      for (const truth of [ramp, lag]) {
        const verdicts = boostVerdicts({ ...log, pulls: [{ truth, seconds }] });
        if (/warn|fail/.test(verdicts)) alarms.push(`seed ${seed}: ${verdicts}`);
      }
    }
    expect(alarms).toEqual([]);
  }, 120_000);
});

describe('clear faults, a quarter beyond the fail limit and more', () => {
  it('are caught, at rates that can show them', () => {
    const misses: string[] = [];
    for (const seed of SEEDS.slice(0, 50)) {
      const car = aCar(seed);
      const { level, spoolS, seconds, settledS, random } = car;
      const log = { ...car.log, rateHz: Math.max(20, car.log.rateHz) };
      const wn = 4 + 4 * random();
      const spikeS = 0.6 + (settledS - 1) * random();
      const faults = {
        '^fail/': secondOrder(level, 0.3, wn),
        '/fail/': spoolThen(level, spoolS, (s) => bump(s, spikeS, 0.3, 28)),
        '/fail$': spoolThen(level, spoolS, (s) => (27 * s) / settledS),
      };
      for (const [wanted, truth] of Object.entries(faults)) {
        const verdicts = boostVerdicts({ ...log, pulls: [{ truth, seconds }] });
        if (!new RegExp(wanted).test(verdicts)) misses.push(`seed ${seed} ${wanted}: ${verdicts}`);
      }
    }
    expect(misses).toEqual([]);
  }, 120_000);
});
