import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runsWithoutGaps, type TracePoint, thinLine } from '../../src/report/thin-line.ts';

const values = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 1, maxLength: 900 });
const points = (of: readonly number[]): TracePoint[] => of.map((value, i) => [i / 20, 2000 + i, value]);

describe('thinning a line', () => {
  it('keeps first, last, lowest and highest, in order, within the number asked for', () => {
    fc.assert(
      fc.property(values, fc.integer({ min: 8, max: 400 }), (of, most) => {
        const line = points(of);
        const thin = thinLine(line, most);
        expect(thin.length).toBeLessThanOrEqual(most);
        expect([thin[0], thin.at(-1)]).toEqual([line[0], line.at(-1)]);
        expect(Math.max(...thin.map((point) => point[2]))).toBe(Math.max(...of));
        expect(Math.min(...thin.map((point) => point[2]))).toBe(Math.min(...of));
        expect(thin.map((point) => line.indexOf(point))).toEqual(
          thin.map((point) => line.indexOf(point)).toSorted((a, b) => a - b),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('leaves a short line alone', () => {
    const line = points([1, 2, 3]);
    expect(thinLine(line, 3)).toBe(line);
  });

  it('parts a line where nothing was logged', () => {
    const line: TracePoint[] = [
      [0, 1, 1],
      [0.5, 1, 1],
      [2.1, 1, 1],
    ];
    expect(runsWithoutGaps(line, 1).map((run) => run.length)).toEqual([2, 1]);
    expect(runsWithoutGaps([], 1)).toEqual([]);
  });
});
