import { describe, expect, it } from 'vitest';
import { gaugeBoost } from '../../src/drive/boost/gauge-boost.ts';
import { outsideAirAt } from '../../src/drive/outside-air.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';

const time = everySample(10, 30);
const driveWith = (baro: (t: number) => number, barometricKpa?: number) =>
  segmentDrive(
    recordingFrom({
      channels: {
        engine_speed: { time, values: time.map(() => 3000) },
        manifold_pressure: { time, values: time.map(() => 180) },
        barometric_pressure: { time, values: time.map(baro) },
      },
      ...(barometricKpa === undefined ? {} : { barometricKpa }),
    }),
    aBuild(),
  );

describe('outside air', () => {
  it('is not a channel that the air pressure of the log is not taken from', () => {
    const boost = gaugeBoost(driveWith(() => 0));
    expect(boost?.values[50]).toBeCloseTo(180 - 101.325, 9);
  });
  it('follows a channel that moves', () => {
    const drive = driveWith((t) => 100 - 0.2 * t, 97);
    expect(outsideAirAt(drive, Float64Array.of(10))[0]).toBeCloseTo(98, 9);
    expect(gaugeBoost(drive)?.values[100]).toBeCloseTo(82, 9);
  });
  it('bridges readings that cannot be, and takes the level where they last', () => {
    const lone = driveWith((t) => (Math.abs(t - 12) < 0.01 ? 0 : 99), 99);
    expect(gaugeBoost(lone)?.values.every((kpa) => Math.abs(kpa - 81) < 1e-9)).toBe(true);
    const long = driveWith((t) => (t > 12 && t < 20 ? 0 : 98), 98);
    expect(gaugeBoost(long)?.values.every((kpa) => Math.abs(kpa - 82) < 1e-9)).toBe(true);
  });
});
