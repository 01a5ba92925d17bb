import { describe, expect, it } from 'vitest';
import { adaptation } from '../../src/drive/trim/adaptation.ts';
import { type DriftBlock, driftBlocks, trimDrift } from '../../src/drive/trim/drift.ts';
import { normalDeviates } from '../support/drive-script.ts';

const REGIONS = ['idle', 'light', 'brisk'];
const OFFSET: Record<string, number> = { idle: 6, light: -2, brisk: 0 };

/** Five-second blocks over `spanS`, changing region every half minute. */
function blocksOf(spanS: number, level: (t: number) => number, warmedThrough = true): DriftBlock[] {
  return Array.from({ length: spanS / 5 }, (_, i) => {
    const timeS = 2.5 + 5 * i;
    const region = REGIONS[Math.floor(timeS / 30) % 3];
    return { timeS, level: OFFSET[region] + level(timeS), region, warmedThrough };
  });
}

const assessed = (blocks: DriftBlock[]) => {
  const drift = trimDrift({ blocks, blockS: 5 });
  if (!drift.assessed) throw new Error(drift.why);
  return drift;
};

describe('drift within the same regions', () => {
  it('finds a straight drift exactly, whatever the level of each region', () => {
    const drift = assessed(blocksOf(600, (t) => 0.02 * t));
    expect(drift.perMinute).toBeCloseTo(1.2, 9);
    expect(drift.changePercent).toBeCloseTo(0.02 * drift.spanS, 9);
    expect(drift.spanS).toBeGreaterThan(500);
    expect(drift.significant).toBe(true);
  });

  it('is blind to regions that change over the log while each stays put', () => {
    const blocks = blocksOf(600, () => 0).map((block) => {
      const region = block.timeS < 300 ? 'idle' : 'brisk';
      return { ...block, region, level: region === 'idle' ? 0 : 10 };
    });
    expect(assessed(blocks).changePercent).toBe(0);
  });

  it('is not assessed where no region is seen for two minutes', () => {
    expect(trimDrift({ blocks: blocksOf(90, (t) => t), blockS: 5 })).toMatchObject({ assessed: false });
  });

  it('keeps quiet over wandering trims: no false alarm in 200', () => {
    let alarms = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const deviate = normalDeviates(seed);
      let wander = 0;
      // Mean-reverting random walk of 1.2 % spread that forgets in 20 s.
      const drift = assessed(
        blocksOf(480, () => {
          wander = wander * Math.exp(-5 / 20) + 1.2 * Math.sqrt(1 - Math.exp(-10 / 20)) * deviate();
          return wander;
        }),
      );
      if (drift.significant && Math.abs(drift.changePercent) >= 5) alarms++;
    }
    expect(alarms).toBe(0);
  });
});

describe('adaptation after a flash', () => {
  it('tells a decay from a drift', () => {
    const decay = adaptation({ blocks: blocksOf(480, (t) => 9 * Math.exp(-t / 60)), blockS: 5 });
    expect(decay).toMatchObject({ comparable: true, evident: true, settles: true });
    expect(decay.endS).toBeGreaterThan(100);
    expect(adaptation({ blocks: blocksOf(480, (t) => 0.025 * t), blockS: 5 }).evident).toBe(false);
  });

  it('sees none in level trims with noise', () => {
    for (let seed = 1; seed <= 50; seed++) {
      const deviate = normalDeviates(seed);
      expect(adaptation({ blocks: blocksOf(300, () => 0.5 * deviate()), blockS: 5 }).evident).toBe(false);
    }
  });
});

describe('blocks', () => {
  // Where a block's edge is no round number, rounding may put a time on the edge that it lies behind.
  it.each([2260, 2700, 3600, 7200])('of a drive of %i s come to an end and hold every time once', (spanS) => {
    const n = spanS * 10;
    const time = Float64Array.from({ length: n }, (_, i) => 0.1 * i);
    const { blocks, blockS } = driftBlocks({
      time,
      values: time.map((t) => t),
      rpm: new Float64Array(n).fill(2000),
      load: new Float64Array(n).fill(40),
      stepS: 0.1,
      quantumPercent: 0.1,
      regions: [{ key: 'cruise', idle: false, rpm: [1500, 2500], load: [30, 50] }],
      region: new Uint16Array(n),
      warmedThrough: new Uint8Array(n).fill(1),
    });
    expect(blocks.length).toBeCloseTo(spanS / blockS, -1);
    for (const block of blocks) expect(block.level).toBeCloseTo(block.timeS, 6);
  });
});
