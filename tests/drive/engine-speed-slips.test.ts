import { describe, expect, it } from 'vitest';
import { mendedEngineSpeed } from '../../src/drive/engine-speed-slips.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';

const REDLINE = 6900;

function mended(time: ArrayLike<number>, values: ArrayLike<number>) {
  const channel = recordingFrom({ channels: { engine_speed: { time, values } } }).channels.get('engine_speed');
  if (!channel) throw new Error('no engine speed');
  return { raw: channel.values, values: mendedEngineSpeed(channel, REDLINE) };
}

/** A line of engine speeds through corners of time and rpm, with the noise of a sensor. */
function line(rateHz: number, corners: readonly (readonly [number, number])[]) {
  const deviate = normalDeviates(9);
  const endS = corners[corners.length - 1][0];
  const time = Float64Array.from({ length: Math.round(endS * rateHz) }, (_, i) => i / rateHz);
  const values = time.map((t) => {
    const k = Math.max(
      1,
      corners.findIndex(([s]) => s > t),
    );
    const [[s0, v0], [s1, v1]] = [corners[k - 1], corners[k]];
    return v0 + ((v1 - v0) * (t - s0)) / (s1 - s0) + (v0 + v1 > 0 ? 6 * deviate() : 0);
  });
  return { time, values };
}

describe('what no engine does is mended', () => {
  for (const rateHz of [5, 10, 20, 50, 100]) {
    it.each([
      [0, 0.1],
      [0, 0.2],
      [0, 0.4],
      [9999, 0.1],
      [9999, 0.4],
      [200, 0.3],
    ])(`a reading of %i rpm for %f s in the pulls, at ${rateHz} Hz: two pulls stay two`, (level, seconds) => {
      const base = baseRun(rateHz, 6, 3);
      const { time } = base.engine_speed;
      const truth = Float64Array.from(base.engine_speed.values);
      const starts = [45.5, 47, 48.6, 67.3, 69, 70.2];
      const isOff = (t: number) => starts.some((s) => t >= s - 1e-9 && t < s + seconds - 1e-9);
      const values = truth.map((value, i) => (isOff(time[i]) ? level : value));
      const drive = segmentDrive(
        recordingFrom({ channels: { ...base, engine_speed: { time, values, rateHz } } }),
        aBuild({ engine: { redlineRpm: REDLINE } }),
      );
      expect(drive.pulls).toHaveLength(2);
      for (const [i, value] of drive.engineSpeed.entries()) expect(Math.abs(value - truth[i])).toBeLessThan(80);
    });
  }

  it('a run of readings in the middle of the range that jumps away and back', () => {
    const { time, values } = line(20, [
      [0, 2500],
      [6, 6500],
    ]);
    const broken = values.map((value, i) => (i > 60 && i < 66 ? value - 2000 : value));
    const { values: whole } = mended(time, broken);
    for (let i = 0; i < values.length; i++) expect(Math.abs(whole[i] - values[i])).toBeLessThan(60);
  });
});

describe('what engines do stays as it was read', () => {
  it.each([
    [
      'a quick gear change',
      [
        [0, 3000],
        [4, 6700],
        [4.15, 4700],
        [8, 6700],
      ],
    ],
    [
      'a downshift with a blip',
      [
        [0, 3000],
        [2, 3000],
        [2.3, 4800],
        [5, 4600],
      ],
    ],
    [
      'a blip at a standstill',
      [
        [0, 820],
        [2, 820],
        [2.3, 4300],
        [3.5, 820],
        [5, 820],
      ],
    ],
    [
      'a clutch dropped from high speed',
      [
        [0, 820],
        [1, 6000],
        [2, 6000],
        [2.15, 2800],
        [6, 6500],
      ],
    ],
    [
      'a stall',
      [
        [0, 820],
        [2, 820],
        [2.2, 300],
        [2.5, 0],
        [6, 0],
      ],
    ],
    [
      'a stall and a start',
      [
        [0, 2000],
        [2, 2000],
        [2.2, 0],
        [3.2, 0],
        [3.5, 1300],
        [5, 820],
      ],
    ],
    [
      'key-off',
      [
        [0, 820],
        [2, 820],
        [3, 0],
        [6, 0],
      ],
    ],
    [
      'starting',
      [
        [0, 0],
        [2, 0],
        [2.1, 250],
        [3, 250],
        [3.4, 1300],
        [6, 850],
      ],
    ],
    [
      'a wheel that spins',
      [
        [0, 3000],
        [2, 4000],
        [2.3, 5200],
        [2.5, 5200],
        [3, 4200],
        [6, 6000],
      ],
    ],
  ] as const)('%s', (_, corners) => {
    for (const rateHz of [10, 20, 50]) {
      const { time, values } = line(rateHz, corners);
      const { raw, values: read } = mended(time, values);
      for (let i = 0; i < raw.length; i++) expect(Math.abs(read[i] - raw[i])).toBeLessThan(300);
    }
  });

  it('the saw of a limiter', () => {
    for (const rateHz of [10, 20, 50]) {
      const time = Float64Array.from({ length: 4 * rateHz }, (_, i) => i / rateHz);
      const values = time.map((t) => 6900 - 350 * Math.abs(((4 * t) % 1) - 0.5));
      expect(mended(time, values).values).toEqual(values);
    }
  });

  it('half a second and more at 0, which is told and not guessed', () => {
    const { time, values } = line(20, [
      [0, 2500],
      [6, 6500],
    ]);
    const broken = values.map((value, i) => (i >= 60 && i < 76 ? 0 : value));
    expect(mended(time, broken).values[68]).toBe(0);
  });
});
