import { describe, expect, it } from 'vitest';
import { airflow, chargeTemperatureId } from '../../src/drive/airflow.ts';
import { chargeSource, chargeTemperatureAt } from '../../src/drive/charge/source.ts';
import { stepBasis } from '../../src/drive/next-step/basis.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';
import { BARO_KPA, intoPull, manifoldAt } from '../support/mixture-drive.ts';

const build = aBuild({ engine: { volumetricEfficiency: 0.9 } });

/** A base run with 40 °C of charge and 25 °C before the compressor, unless told otherwise. */
function driveWith(charge?: (t: number, noise: number) => number, intake?: (t: number) => number, rateHz = 10) {
  const base = baseRun(10, 5, 1);
  const { time } = base.engine_speed;
  const deviate = normalDeviates(3);
  const slow = Array.from({ length: Math.floor(89 * rateHz) }, (_, i) => i / rateHz);
  const channels = {
    ...base,
    manifold_pressure: { time, values: Array.from(time, (t) => manifoldAt(t)) },
    ...(charge
      ? { charge_air_temperature: { time: slow, values: slow.map((t) => charge(t, deviate())), rateHz } }
      : {}),
    ...(intake ? { intake_air_temperature: { time: slow, values: slow.map(intake), rateHz } } : {}),
  };
  return segmentDrive(recordingFrom({ channels, barometricKpa: BARO_KPA }), build);
}
const intake = () => 25;

/** Air mass in the second pull, g/s. */
function airInPull(drive: ReturnType<typeof driveWith>, sheet = build) {
  const air = airflow(drive, sheet);
  if ('missing' in air) return air.missing;
  return air.values[air.time.findIndex((t) => t > 70)];
}

describe('the temperature that stands for the charge', () => {
  it.each([
    ['shorted', (_: number, noise: number) => 215 + 0.1 * noise],
    ['shorted, in digits', (t: number) => (t % 1 < 0.5 ? 215 : 214)],
    ['open', () => -40],
    ['open, with a digit of dither', (t: number) => (t % 1 < 0.5 ? -40 : -39)],
    ['open for most of the log', (t: number) => (t > 20 ? -40 : 35)],
    ['open in the pulls', (t: number) => (intoPull(t) === undefined ? 35 : -40)],
    ['beyond what can be', (t: number) => (t > 20 ? 800 : 35)],
  ] as const)('is intake temperature where the sensor behind the cooler is %s', (_, charge) => {
    for (const rateHz of [1, 5, 20]) {
      const drive = driveWith(charge, intake, rateHz);
      expect(chargeTemperatureId(drive)).toBe('intake_air_temperature');
      expect(airInPull(drive)).toBeCloseTo(airInPull(driveWith(undefined, intake)) as number, 6);
      const air = airflow(drive, build);
      expect('note' in air && air.note).toMatch(
        /Charge air temperature is not used: it .* Intake air temperature is taken/,
      );
      expect(stepBasis(drive)?.chargeId).toBe('intake_air_temperature');
    }
  });

  it('is missing where neither measures, and the air with it', () => {
    const drive = driveWith(
      () => 215,
      () => -40,
    );
    expect(chargeTemperatureId(drive)).toBeUndefined();
    expect(airInPull(drive)).toEqual(['charge_air_temperature', 'intake_air_temperature']);
    expect(chargeSource(drive).notes).toHaveLength(2);
    expect(stepBasis(drive)?.notes.join(' ')).toContain('No charge temperature is known');
  });

  it('is not a channel that the build sheet lists as disconnected', () => {
    const drive = driveWith(
      () => 20,
      () => 35,
    );
    const sheet = aBuild({
      engine: { volumetricEfficiency: 0.9 },
      expect: { disconnected: ['charge_air_temperature'] },
    });
    expect(airInPull(drive, sheet)).toBeCloseTo(airInPull(driveWith(undefined, () => 35)) as number, 6);
  });

  it('stays the charge where it is cold, hot, coarse or slow', () => {
    for (const level of [-20, -5, 60, 120]) {
      for (const rateHz of [0.5, 1, 10]) {
        const drive = driveWith((_, noise) => Math.round(level + noise), intake, rateHz);
        expect(chargeTemperatureId(drive)).toBe('charge_air_temperature');
        expect(chargeSource(drive).notes).toEqual([]);
      }
    }
  });

  it('leaves a jump out and bridges it', () => {
    const drive = driveWith((t) => (t > 68 && t < 71 ? -40 : 40), intake);
    expect(chargeTemperatureId(drive)).toBe('charge_air_temperature');
    expect(chargeTemperatureAt(drive, Float64Array.of(69.5))?.[0]).toBeCloseTo(40, 9);
    // Density goes with 1/T: at −40 °C the air would be (40 + 273.15)/(−40 + 273.15) = 1.343 times as much.
    expect(airInPull(drive)).toBeCloseTo(airInPull(driveWith(() => 40, intake)) as number, 6);
    expect(chargeSource(drive).notes.join(' ')).toContain('readings that no air gives left out');
  });
});
