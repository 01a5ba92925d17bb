import { describe, expect, it } from 'vitest';
import { purgeSteps } from '../../src/drive/trim/purge.ts';
import { everySample } from '../support/build-recording.ts';

const time = everySample(5, 120);
const swing = (t: number) => 3 * Math.sin(2 * Math.PI * 0.8 * t);

describe('purge-like steps', () => {
  it('finds a step that lasts and reverts, with its height, through the swing of the control loop', () => {
    const steps = purgeSteps(
      time,
      time.map((t) => 2 + swing(t) + (t > 50 && t < 70 ? -8 : 0)),
    );
    expect(steps).toHaveLength(1);
    expect(Math.abs(steps[0].startS - 50)).toBeLessThan(2);
    expect(Math.abs(steps[0].endS - 70)).toBeLessThan(2);
    expect(steps[0].heightPercent).toBeCloseTo(-8, 0);
  });

  it.each([
    ['the swing alone', (t: number) => swing(t)],
    ['a step that stays', (t: number) => (t > 60 ? 9 : 0) + swing(t)],
    ['a slow hump', (t: number) => 8 * Math.exp(-(((t - 60) / 20) ** 2))],
    ['a drift', (t: number) => t / 8],
  ])('is not %s', (_, total) => {
    expect(purgeSteps(time, time.map(total))).toEqual([]);
  });
});
