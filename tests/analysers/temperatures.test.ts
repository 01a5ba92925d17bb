import { describe, expect, it } from 'vitest';
import { temperatures } from '../../src/analysers/temperatures.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';

const limits: LimitTable = new Map(temperatures.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));

interface Script {
  readonly rateHz?: number;
  readonly coolant?: (t: number) => number;
  readonly oil?: (t: number) => number;
  readonly noise?: number;
  readonly endS?: number;
}

function assess(script: Script) {
  const { rateHz = 5, noise = 0.2, endS = 89 } = script;
  const deviate = normalDeviates(4);
  const time = Array.from({ length: Math.floor(endS * rateHz) }, (_, i) => i / rateHz);
  const of = (value: (t: number) => number) => ({
    time,
    values: time.map((t) => value(t) + noise * deviate()),
    rateHz,
  });
  const channels = {
    ...baseRun(10, 5, 1),
    ...(script.coolant ? { coolant_temperature: of(script.coolant) } : {}),
    ...(script.oil ? { oil_temperature: of(script.oil) } : {}),
  };
  const build = aBuild();
  const drive = segmentDrive(recordingFrom({ channels }), build);
  const result = temperatures.assess(drive, { build, limits, codes: [] });
  const byId = (id: string) => result.findings.find((finding) => finding.id === `temperatures.${id}`);
  return {
    ...result,
    verdict: worst(result.findings),
    coolant: byId('coolant'),
    oil: byId('oil'),
    cold: byId('cold-pull'),
  };
}

/** Warm, and `top` for five seconds within the second pull. */
const bump =
  (warm: number, top: number, seconds = 5) =>
  (t: number) =>
    t > 67 && t < 67 + seconds ? top : warm;
/** Climbs to `top` within ten seconds, stays for five, falls again. */
const hill = (warm: number, top: number) => (t: number) =>
  Math.max(warm, Math.min(top, top - (warm === top ? 0 : (top - warm) / 10) * (Math.abs(t - 70) - 5)));

describe('coolant and oil', () => {
  for (const rateHz of [0.5, 1, 5, 50]) {
    it.each([
      [95, 105, 'pass', 'pass'],
      [108, 105, 'warn', 'pass'],
      [95, 130, 'pass', 'warn'],
      [120, 105, 'fail', 'pass'],
      [95, 145, 'pass', 'fail'],
    ])(`at %f and %f °C are %s and %s at ${rateHz} Hz`, (coolantTop, oilTop, coolantVerdict, oilVerdict) => {
      const { coolant, oil } = assess({ rateHz, coolant: hill(90, coolantTop), oil: hill(100, oilTop) });
      expect([coolant?.verdict, oil?.verdict]).toEqual([coolantVerdict, oilVerdict]);
      expect(coolant?.measured?.value).toBeGreaterThan(coolantTop - 1.5);
      expect(coolant?.measured?.value).toBeLessThan(coolantTop + 0.5);
    });
  }
  it('at the limit trip it', () => {
    const at = (top: number) => assess({ noise: 0, coolant: hill(90, top) }).coolant?.verdict;
    expect([at(104.9), at(105), at(115)]).toEqual(['pass', 'warn', 'fail']);
  });
  it('do not count a level held for less than two seconds', () => {
    const shortly = (t: number) => (t > 67 && t < 68.4 ? 109 : 98);
    expect(assess({ coolant: shortly }).coolant?.verdict).toBe('pass');
  });
  it('leave lone readings and jumps there and back out, and say so', () => {
    expect(assess({ coolant: (t) => (Math.abs(t - 50) < 0.05 ? 140 : 90) }).verdict).toBe('pass');
    const { coolant } = assess({ coolant: bump(90, 140, 4) });
    expect(coolant?.verdict).toBe('pass');
    expect(coolant?.reasoning.join(' ')).toContain('jumped to 140 °C and back');
  });
  it('say for how long, where and why it may be', () => {
    const { coolant } = assess({ coolant: hill(90, 120) });
    expect(coolant?.reasoning.join(' ')).toMatch(/At or above 105 °C for 20\.\d+ s/);
    expect(coolant?.where[0].pull).toBe(2);
    expect(coolant?.causes.length).toBeGreaterThan(2);
    expect(coolant?.next.length).toBeGreaterThan(1);
  });
  it('do not count with the engine off', () => {
    expect(assess({ coolant: (t) => (t < 2.6 ? 108 : t < 3.4 ? 104 : 95) }).verdict).toBe('pass');
  });
  it('of a pass say what would have shown', () =>
    expect(assess({ coolant: () => 90 }).coolant?.detectable).toContain('would have shown'));
});

describe('cold engine', () => {
  it('at full load is told, coldest first', () => {
    const { cold, verdict } = assess({ coolant: (t) => 40 + 0.5 * t, oil: (t) => 25 + 0.4 * t });
    expect(cold?.title).toContain('oil at 43 °C at the start of pull 1');
    expect(cold?.where.map((w) => w.pull)).toEqual([1, 2]);
    expect(verdict).toBe('pass');
    expect(assess({ coolant: () => 88 }).cold).toBeUndefined();
  });
});

describe('what is no answer', () => {
  it('one of the two leaves the other open', () => {
    const { verdict, oil, needs } = assess({ coolant: () => 90 });
    expect(verdict).toBe('pass');
    expect(oil?.verdict).toBe('not-assessed');
    expect(needs).toEqual(['oil_temperature']);
  });
  it('neither of them', () => expect(assess({}).verdict).toBe('not-assessed'));
  it('a log that ends before the pulls', () =>
    expect(assess({ coolant: () => 90, endS: 30 }).verdict).toBe('not-assessed'));
  it('readings that cannot be', () => expect(assess({ coolant: () => 200 }).verdict).toBe('not-assessed'));
  it('shows a row for each pull', () =>
    expect(assess({ coolant: () => 90 }).tables[0].rows.map((row) => row[0])).toEqual(['1', '2']));
});

describe('a sensor that measures nothing', () => {
  it.each([
    ['open', () => -40],
    ['open, with a digit of dither', (t: number) => (t % 1 < 0.5 ? -40 : -39)],
    ['shorted', (t: number) => (t % 1 < 0.5 ? 215 : 214)],
    ['beyond its scale for most of the log', (t: number) => (t > 30 ? 300 : 90)],
  ] as const)('%s is no answer, and a healthy oil sensor makes it no pass', (_, coolant) => {
    const { coolant: found, verdict, summary } = assess({ coolant, oil: () => 100, noise: 0 });
    expect(found?.verdict).toBe('not-assessed');
    expect(found?.measured).toBeUndefined();
    expect(verdict).toBe('not-assessed');
    expect(summary).toContain('Coolant temperature is not measured');
  });
  it('does not hide oil that is too hot', () =>
    expect(assess({ coolant: () => -40, oil: () => 145, noise: 0 }).verdict).toBe('fail'));
  it('is not a car that starts in the frost', () =>
    expect(assess({ coolant: (t) => Math.min(90, -38.5 + 4 * t), oil: () => 90, noise: 0 }).coolant?.verdict).toBe(
      'pass',
    ));
});
