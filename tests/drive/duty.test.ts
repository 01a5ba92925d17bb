import { describe, expect, it } from 'vitest';
import { airflow } from '../../src/drive/airflow.ts';
import { modelDuty } from '../../src/drive/duty/modelled.ts';
import { pullTop } from '../../src/drive/duty/pull-top.ts';
import { computedDuty, loggedDuty } from '../../src/drive/duty/series.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { loneSamples } from '../../src/signal/lone-samples.ts';
import { sampleNoise } from '../../src/signal/sample-noise.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';

const held = (rpm: number, channels: Parameters<typeof recordingFrom>[0]['channels'], barometricKpa?: number) => {
  const time = everySample(10, 5);
  const parts = { engine_speed: { time, values: time.map(() => rpm) }, ...channels };
  return segmentDrive(
    recordingFrom({ channels: parts, ...(barometricKpa === undefined ? {} : { barometricKpa }) }),
    aBuild(),
  );
};
const flat = (value: number) => ({ time: everySample(10, 5), values: everySample(10, 5).map(() => value) });

describe('duty from pulse width and engine speed', () => {
  // Arithmetic of the definition: pulse width over the cycle time of a four-stroke, 120,000 / rpm.
  it.each([
    [3, 800, 1, 2],
    [10, 6000, 1, 50],
    [12, 6500, 1, 65],
    [14.2, 7000, 1, 82.8333333333],
    [20, 6000, 1, 100],
    [18.5, 6500, 1, 100.208333333],
    [7.1, 7000, 2, 82.8333333333],
  ])('%d ms at %d rpm, %d pulse(s) a cycle: %d %%', (ms, rpm, pulsesPerCycle, percent) => {
    const duty = computedDuty(held(rpm, { injector_pulse_width: flat(ms) }), aBuild({ injectors: { pulsesPerCycle } }));
    expect(duty?.series.values[7]).toBeCloseTo(percent, 8);
  });

  it('takes engine speed at the pulse width’s own times', () => {
    const time = everySample(1, 10);
    const drive = segmentDrive(
      recordingFrom({
        channels: {
          engine_speed: { time, values: time.map((t) => 1000 + 100 * t) },
          injector_pulse_width: { time: everySample(1, 9, 0.5), values: everySample(1, 9, 0.5).map(() => 12) },
        },
      }),
      aBuild(),
    );
    const duty = computedDuty(drive, aBuild());
    expect(duty?.series.values[3]).toBeCloseTo((12 * 1350) / 1200, 9);
    expect(duty?.skewS).toBeCloseTo(0.5, 9);
  });

  it('is nothing without its channels', () => {
    expect(computedDuty(held(3000, {}), aBuild())).toBeUndefined();
    expect(loggedDuty(held(3000, {}))).toBeUndefined();
  });
});

describe('air mass', () => {
  it('by speed-density: VE 0.95, 1.998 L, 6,000 rpm, 220 kPa, 45 °C is 228.622 g/s (ideal gas, R 287.05287)', () => {
    const drive = held(6000, { manifold_pressure: flat(220), charge_air_temperature: flat(45) });
    const air = airflow(drive, aBuild({ engine: { displacementL: 1.998, volumetricEfficiency: 0.95 } }));
    expect('values' in air && air.values[3]).toBeCloseTo(228.62196511, 6);
  });
  it('is the meter’s where it lives, and not where the build says that it is unplugged', () => {
    const time = everySample(10, 5);
    const channels = {
      mass_air_flow: { time, values: time.map((t) => 5 + 40 * t) },
      manifold_pressure: flat(150),
      intake_air_temperature: flat(30),
    };
    expect(airflow(held(5000, channels), aBuild())).toMatchObject({ from: 'mass-air-flow' });
    const sheet = aBuild({ expect: { disconnected: ['mass_air_flow'] } });
    expect(airflow(held(5000, channels), sheet)).toMatchObject({ from: 'speed-density' });
    expect(airflow(held(5000, { ...channels, mass_air_flow: flat(0) }), aBuild())).toMatchObject({
      from: 'speed-density',
    });
  });
  it('names what is missing', () =>
    expect(airflow(held(5000, {}), aBuild())).toEqual({
      missing: ['mass_air_flow', 'manifold_pressure', 'charge_air_temperature', 'intake_air_temperature'],
    }));
});

describe('modelled duty', () => {
  it('takes pressure from the rail against the manifold: 400 kPa gauge, 101 kPa, 250 kPa absolute leave 251 kPa', () => {
    // Flow factor against 400 kPa: sqrt(251/400) = 0.79215, so the open share grows by 1/0.79215.
    const base = baseRun(10);
    const time = base.engine_speed?.time ?? [];
    const level = (value: number) => ({ time, values: Array.from(time, () => value) });
    const air = Array.from(time, (t) => ((t > 44 && t < 50) || (t > 66 && t < 72) ? 150 : 6));
    const channels = {
      ...base,
      mass_air_flow: { time, values: air },
      manifold_pressure: level(250),
      lambda: level(0.8),
    };
    const sheet = aBuild({
      injectors: {
        flowCcMin: 900,
        ratedPressureKpa: 400,
        fuelPressureKpa: 400,
        regulator: 'manifold-referenced',
        deadTime: [[14, 0]],
      },
    });
    const of = (more: object) =>
      modelDuty(segmentDrive(recordingFrom({ channels: { ...channels, ...more }, barometricKpa: 101 }), sheet), sheet);
    const plain = of({});
    const rail = of({ fuel_rail_pressure: level(400) });
    if (!plain.ok || !rail.ok) throw new Error('a model was expected');
    const i = plain.duty.series.values.length >> 1;
    expect(plain.duty.series.values[i] / rail.duty.series.values[i]).toBeCloseTo(0.7921489759, 6);
    // 150 g/s / (0.8 × 14.7) / 4 = 3.18878 g/s of fuel each; 900 cc/min at 0.745 kg/L is 11.175 g/s.
    expect(plain.duty.series.values[i]).toBeCloseTo(28.535, 2);
  });
});

describe('lone samples', () => {
  const ramp = (n: number, seed: number) => {
    const deviate = normalDeviates(seed);
    return Float64Array.from({ length: n }, (_, i) => 50 + 0.2 * i + 0.3 * deviate());
  };
  it('far from both neighbours are found, either way', () => {
    const values = ramp(200, 3);
    values[80] += 20;
    values[120] -= 20;
    expect(loneSamples(values, 20, 8, 25)).toEqual([80, 120]);
  });
  it('do not include a step, a rise of two samples, noise, or the ends', () => {
    const step = ramp(200, 4).map((value, i) => (i > 100 ? value + 30 : value));
    expect(loneSamples(step, 20, 8, 25)).toEqual([]);
    const two = ramp(200, 5).map((value, i) => (i === 90 || i === 91 ? value + 30 : value));
    expect(loneSamples(two, 20, 8, 25)).toEqual([]);
    const ends = ramp(200, 6);
    ends[0] += 40;
    ends[199] += 40;
    expect(loneSamples(ends, 20, 8, 25)).toEqual([]);
  });
  it('need more at a low rate, where much happens between samples', () => {
    const values = ramp(20, 7);
    values[10] += 15;
    expect(loneSamples(values, 20, 8, 25)).toEqual([10]);
    expect(loneSamples(values, 1, 8, 25)).toEqual([]);
  });
});

describe('sample noise', () => {
  it('of normal deviates is their sigma', () => {
    const deviate = normalDeviates(9);
    expect(sampleNoise(Float64Array.from({ length: 4000 }, () => 2 * deviate()))).toBeCloseTo(2, 0);
  });
  it('of a number that mostly repeats itself is none, however it jumps', () =>
    expect(sampleNoise(Float64Array.from({ length: 100 }, (_, i) => (i % 30 === 0 ? 8 : 0)))).toBe(0));
});

describe('the top of a pull', () => {
  // The script turns from +700 rpm/s to −700 rpm/s at 50 s and 6,700 rpm.
  for (const rateHz of [0.8, 1.3, 2.3, 7, 20]) {
    it(`between samples at ${rateHz} Hz is where the two lines meet`, () => {
      const drive = segmentDrive(recordingFrom({ channels: baseRun(rateHz) }), aBuild());
      for (const pull of drive.pulls) expect(Math.abs(pullTop(drive, pull).rpm - 6700)).toBeLessThan(60);
      expect(drive.pulls.length).toBeGreaterThan(0);
    });
  }
});
