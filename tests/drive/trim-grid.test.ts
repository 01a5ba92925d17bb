import { describe, expect, it } from 'vitest';
import { trimGrid } from '../../src/drive/trim/grid.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';

const flat = (time: Float64Array, value: number) => ({ time, values: new Float64Array(time.length).fill(value) });

describe('total trim on one time base', () => {
  // E-219 and E-220 of the check values: derived from the definition of a trim as a factor on fuel (SAE J1979).
  it.each([
    [8, 6, 14.48],
    [-10, -12, -20.8],
  ])('is the product of %d %% and %d %%, not their sum', (short, long, total) => {
    const time = everySample(10, 20);
    const grid = trimGrid(
      recordingFrom({
        channels: { short_term_fuel_trim_1: flat(time, short), long_term_fuel_trim_1: flat(everySample(1, 20), long) },
      }),
    );
    expect(grid.banks[0].total.every((value) => Math.abs(value - total) < 1e-9)).toBe(true);
  });

  it('holds a long term trim that is polled every 10 s until its next value', () => {
    const grid = trimGrid(
      recordingFrom({
        channels: {
          short_term_fuel_trim_1: flat(everySample(5, 30), 0),
          long_term_fuel_trim_1: { time: [0, 10, 20], values: [1, 2, 3] },
        },
      }),
    );
    const at = (t: number) => grid.banks[0].total[Math.round(t / grid.stepS)];
    expect([at(9.8), at(10.2), at(29.8)].map((value) => Math.round(value * 1e6) / 1e6)).toEqual([1, 2, 3]);
  });

  it('says which trim is missing', () => {
    const recording = recordingFrom({ channels: { long_term_fuel_trim_2: flat(everySample(1, 20), 5) } });
    expect(trimGrid(recording).banks.map(({ bank, parts }) => [bank, parts])).toEqual([[2, 'long']]);
  });

  // Raw 00 and FF of PIDs 06 to 09 are −100 % and +99.2 % (SAE J1979): what is sent for a trim that is not there.
  it.each([99.21875, -100])('takes a trim that stands at %d %% as not sent', (end) => {
    const grid = trimGrid(
      recordingFrom({
        channels: {
          short_term_fuel_trim_1: { time: [0, 1, 2], values: [1, 2, 1] },
          short_term_fuel_trim_2: flat(everySample(1, 2), end),
        },
      }),
    );
    expect(grid.banks.map(({ bank }) => bank)).toEqual([1]);
    expect(grid.notes.join()).toContain('bank 2');
  });

  it('takes no bank from columns of zeros', () => {
    const time = everySample(1, 20);
    const zeros = { short_term_fuel_trim_2: flat(time, 0), long_term_fuel_trim_2: flat(time, 0) };
    expect(trimGrid(recordingFrom({ channels: zeros })).banks).toEqual([]);
  });
});
