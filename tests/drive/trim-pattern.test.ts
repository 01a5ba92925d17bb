import { describe, expect, it } from 'vitest';
import type { Cell } from '../../src/drive/trim/cells.ts';
import { trimPattern } from '../../src/drive/trim/pattern.ts';

function cell(meanLoad: number, medianPercent: number, half = 0.5, idle = false): Cell {
  return {
    region: { key: `${idle ? 'idle' : meanLoad}`, idle, rpm: undefined, load: undefined },
    dwellS: 30,
    medianPercent,
    spreadPercent: 2,
    effectiveN: 20,
    lowPercent: medianPercent - half,
    highPercent: medianPercent + half,
    judged: true,
    meanRpm: 2000,
    meanLoad,
    visits: [],
  };
}
const idle = (percent: number) => cell(18, percent, 0.5, true);
const kind = (...cells: Cell[]) => trimPattern(cells, '%').kind;

describe('pattern over load', () => {
  it.each([
    ['lean at idle, fading with load', [idle(14), cell(30, 4), cell(60, 2)]],
    ['lean at idle, fading with load', [cell(25, 12), cell(40, 6), cell(70, 1)]],
    ['lean, growing with load', [idle(0), cell(30, 4), cell(60, 9), cell(80, 13)]],
    ['lean, growing with load', [idle(0.5), cell(50, 11)]],
    ['lean everywhere alike', [idle(10), cell(30, 9), cell(60, 11)]],
    ['rich everywhere alike', [idle(-10), cell(30, -9), cell(60, -11)]],
    ['rich at idle, fading with load', [idle(-13), cell(30, -3), cell(60, -1)]],
    ['rich, growing with load', [idle(-1), cell(30, -4), cell(70, -13)]],
    ['none', [idle(1), cell(30, -1), cell(60, 2)]],
    ['none', [idle(14)]],
  ] as const)('%s', (expected, cells) => {
    expect(kind(...cells)).toBe(expected);
  });

  it('claims none that the intervals do not support', () => {
    expect(kind(cell(18, 9, 8, true), cell(30, 3, 8), cell(60, 2, 8))).toBe('none');
  });
});
