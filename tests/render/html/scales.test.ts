import { ticks as d3Ticks } from 'd3-array';
import { describe, expect, it } from 'vitest';
import { linePath } from '../../../src/render/html/line-path.ts';
import { linearScale, ticks, widened } from '../../../src/render/html/linear-scale.ts';
import { parsePath } from './parse-path.ts';

describe('a linear scale', () => {
  it('maps the ends of its domain onto the ends of its range', () => {
    const { at } = linearScale([1000, 7000], [40, 440]);
    expect([at(1000), at(4000), at(7000)]).toEqual([40, 240, 440]);
  });

  it('stands still where the domain has no length', () => {
    expect(linearScale([5, 5], [0, 100]).at(5)).toBe(0);
  });

  // Reference: d3-array's ticks, an independent implementation of the 1-2-5 rule.
  it.each([
    [0, 100, 4],
    [0, 125.4, 4],
    [2100, 6700, 5],
    [0.78, 1.03, 4],
    [-12.5, 87.1, 5],
    [230.3, 239.5, 5],
    [0, 6, 4],
  ])('ticks %d to %d as d3-array does', (low, high, count) => {
    expect(ticks([low, high], count)).toEqual(d3Ticks(low, high, count));
  });

  it('widens a domain to whole ticks around it', () => {
    const [low, high] = widened([-3.2, 92], 4);
    expect([low, high]).toEqual([-20, 100]);
    expect(widened([0, 100], 4)).toEqual([0, 100]);
  });
});

describe('a line path', () => {
  it('draws each run by itself, to tenths', () => {
    const path = linePath([
      [
        [0, 1.04],
        [10, 2.06],
      ],
      [
        [20, 3],
        [30, 4],
      ],
    ]);
    expect(parsePath(path)).toEqual([
      [
        [0, 1],
        [10, 2.1],
      ],
      [
        [20, 3],
        [30, 4],
      ],
    ]);
  });

  it('leaves out only what lies in the middle of a level stretch', () => {
    const levels = [5, 5, 5, 5, 7, 7, 5].map((y, x) => [x, y] as const);
    expect(parsePath(linePath([levels]))).toEqual([
      [
        [0, 5],
        [3, 5],
        [4, 7],
        [5, 7],
        [6, 5],
      ],
    ]);
  });

  it('shows a lone point', () => {
    expect(linePath([[[3, 4]]])).toBe('M3 4 3 4');
    expect(linePath([[]])).toBe('');
  });
});
