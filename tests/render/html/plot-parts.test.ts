import { describe, expect, it } from 'vitest';
import { edgeLabels } from '../../../src/render/html/edge-labels.ts';
import { joined } from '../../../src/render/html/finding-lanes.ts';
import { trackDomain } from '../../../src/render/html/track-domain.ts';
import { cutAtEdges } from '../../../src/render/html/visible-runs.ts';
import type { PullTraces, TrackId } from '../../../src/report/pull-traces.ts';
import { allElements, parseStrictXml } from '../../support/strict-xml.ts';

describe('a line on a plot', () => {
  it('ends where it leaves the plot and begins again where it comes back', () => {
    const line = [
      [0, 5],
      [1, 15],
      [2, 15],
      [3, 5],
    ] as const;
    expect(cutAtEdges(line, [0, 10])).toEqual([
      [
        [0, 5],
        [0.5, 10],
      ],
      [
        [2.5, 10],
        [3, 5],
      ],
    ]);
  });

  it('is drawn between the edges where one step goes from below to above', () => {
    const line = [
      [0, -10],
      [4, 30],
    ] as const;
    expect(cutAtEdges(line, [0, 20])).toEqual([
      [
        [1, 0],
        [3, 20],
      ],
    ]);
  });

  it('is left out where it stays outside, and whole where it stays inside', () => {
    const level = [
      [0, 5],
      [1, 5],
    ] as const;
    expect(cutAtEdges(level, [6, 10])).toEqual([]);
    expect(cutAtEdges(level, [5, 10])).toEqual([level]);
  });
});

describe('stretches', () => {
  it('that touch or cover one another are one', () => {
    expect(
      joined([
        [50, 60],
        [10, 20],
        [15, 30],
        [31, 40],
      ]),
    ).toEqual([
      [10, 40],
      [50, 60],
    ]);
  });
});

describe('labels beside a plot', () => {
  it('keep their distance and stay within it', () => {
    const labels = [98, 97, 96, 30].map((y) => ({ y, kind: 'warn', text: `warn ${y}` }));
    const { markup } = edgeLabels(labels, 20, 100);
    const texts = allElements(parseStrictXml(`<g>${markup}</g>`)).filter(({ name }) => name === 'text');
    const heights = texts.map(({ attributes }) => Number(attributes.y) - 4).toSorted((a, b) => a - b);
    expect(heights).toHaveLength(4);
    for (let i = 1; i < heights.length; i++) expect(heights[i] - heights[i - 1]).toBeGreaterThanOrEqual(11.9);
    expect(heights[0]).toBeGreaterThanOrEqual(20);
    expect(heights[3]).toBeLessThanOrEqual(100);
  });
});

describe('the scale of a plot', () => {
  const pull = (tracks: readonly (readonly [TrackId, readonly number[]])[]): PullTraces => ({
    pull: 1,
    startS: 0,
    endS: 9,
    tracks: tracks.map(([id, values]) => ({
      id,
      title: id,
      unit: '',
      levels: [],
      lines: [{ label: id, role: 'measured', runs: [values.map((value, i) => [i, 2000 + i, value] as const)] }],
    })),
  });

  it('holds every value of the pull, and a limit that is near', () => {
    const [low, high] = trackDomain('charge', [pull([['charge', [31, 52, 44]]])], { warn: 60, fail: 75 });
    expect(low).toBeLessThanOrEqual(31);
    expect(high).toBeGreaterThan(60);
    expect(high).toBeLessThan(75);
  });

  it('begins boost at zero, and ends duty no lower than 100 %', () => {
    expect(trackDomain('boost', [pull([['boost', [-40, 20, 90]]])], {})[0]).toBe(0);
    expect(trackDomain('duty', [pull([['duty', [5, 60]]])], {})[1]).toBeGreaterThan(100);
    expect(trackDomain('boost', [pull([['boost', [-40, -30, -20]]])], {})[0]).toBeLessThan(-40);
  });

  it('is for the mixture from half of the boost on, with every lean moment after it', () => {
    const traces = pull([
      ['boost', [0, 20, 60, 100, 100]],
      ['mixture', [1.4, 1.2, 0.9, 0.82, 1.1]],
    ]);
    const [low, high] = trackDomain('mixture', [traces], {});
    expect(low).toBeLessThan(0.82);
    expect(high).toBeGreaterThan(1.1);
    expect(high).toBeLessThan(1.2);
  });
});
