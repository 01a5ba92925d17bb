import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../src/analysers/analyser.ts';
import { fuelTrim } from '../../src/analysers/fuel-trim.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import { aBuild } from '../support/build-sheet.ts';
import {
  BRISK,
  type Hold,
  IDLE,
  LIGHT,
  type Moment,
  PULL,
  TEN_MINUTES,
  type TrimScript,
  trimDrive,
} from '../support/trim-drive.ts';

const limits = new Map(fuelTrim.meta.limits.map((limit) => [limit.id, { ...limit, from: 'default' as const }]));

function assess(script: Partial<TrimScript>, build: Build = aBuild()): Assessment {
  const drive = trimDrive({ holds: TEN_MINUTES, total: () => 0, ...script }, build);
  return fuelTrim.assess(drive, { build, limits, codes: [] });
}
const finding = (answer: Assessment, id: string) => {
  const found = answer.findings.find((f) => f.id === `fuel-trim.${id}`);
  if (!found) throw new Error(`no ${id}`);
  return found;
};
const standing = (m: Moment) => m.hold.kmh === 0;
const SHORT: readonly Hold[] = [
  { ...IDLE, seconds: 30 },
  { ...LIGHT, seconds: 50 },
  ...PULL,
  { ...LIGHT, seconds: 15 },
];

describe('level', () => {
  it.each([
    [3, 'pass'],
    [-5, 'pass'],
    [10, 'warn'],
    [-10, 'warn'],
    [18, 'fail'],
    [-18, 'fail'],
  ])('a constant %d %% is a %s, with its value', (total, verdict) => {
    const level = finding(assess({ total: () => total, longTerm: () => 0.6 * total }), 'level');
    expect(level.verdict).toBe(verdict);
    expect(Math.abs((level.measured?.value ?? 0) - Math.abs(total))).toBeLessThan(0.5);
  });

  it.each([1, 2, 5, 10, 20, 50])('is seen in a 100 s log at %d Hz', (rateHz) => {
    const level = finding(assess({ holds: SHORT, total: () => 11, rateHz }), 'level');
    expect(level.verdict).toBe('warn');
    expect(Math.abs((level.measured?.value ?? 0) - 11)).toBeLessThan(1.5);
  });

  it.each([
    [0.5, 3],
    [1.1, 3],
    [2, 3],
  ])('is not biased by a swing at %d Hz', (hz, percent) => {
    const level = finding(assess({ total: () => 10, swing: { hz, percent } }), 'level');
    expect(Math.abs((level.measured?.value ?? 0) - 10)).toBeLessThan(0.4);
  });

  it('carries reasoning, place, detectable and next', () => {
    const answer = assess({ holds: SHORT, total: () => 12 });
    const level = finding(answer, 'level');
    expect(level.reasoning.join(' ')).toMatch(/Left out: .*full load/);
    expect(level.reasoning.join(' ')).toContain('trims say nothing about the pull');
    expect(level.where.length).toBeGreaterThan(0);
    expect(level.next.length).toBeGreaterThan(0);
    expect(level.detectable).toMatch(/\d/);
    expect(answer.tables.map((table) => table.id)).toEqual(['fuel-trim.cells', 'fuel-trim.time']);
  });

  it('judges one trim alone, says so and widens the interval', () => {
    const both = finding(assess({ total: () => 10 }), 'level');
    const short = finding(assess({ total: () => 10, drop: ['long_term_fuel_trim_1'] }), 'level');
    const width = (f: typeof both) => (f.measured?.high ?? 0) - (f.measured?.low ?? 0);
    expect(short.verdict).toBe('warn');
    expect(width(short)).toBeGreaterThan(width(both) + 5);
    expect(short.reasoning.join(' ')).toContain('only the short term trim is logged');
  });

  it('says when a trim stands at its stop', () => {
    const level = finding(
      assess({ total: () => 25, noisePercent: 0, swing: { percent: 0, hz: 1 }, longTerm: () => 0 }),
      'level',
    );
    expect(level.verdict).toBe('fail');
    expect(level.reasoning.join(' ')).toContain('true error is larger');
  });

  it('infers closed loop where the status is not logged, and says so', () => {
    const level = finding(
      assess({ holds: SHORT, total: () => 12, drop: ['fuel_system_status', 'coolant_temperature'] }),
      'level',
    );
    expect(level.verdict).toBe('warn');
    expect(level.reasoning.join(' ')).toMatch(/inferred.*|taken as warm/);
  });

  it('leaves out a purge-like step and names it', () => {
    const purged = (m: Moment) => (m.t > 60 && m.t < 80 ? -11 : 1);
    const level = finding(assess({ holds: [{ ...LIGHT, seconds: 130 }], total: purged }), 'level');
    expect(level.verdict).toBe('pass');
    expect(level.reasoning.join(' ')).toContain('purge-like step left out');
  });
});

describe('load axis', () => {
  it('passes over a load channel that never moves', () => {
    const time = Array.from({ length: 600 }, (_, i) => i);
    const manifold = { time, values: time.map((t) => 35 + 10 * Math.sin(t / 40)) };
    const dead = { time, values: time.map(() => 12) };
    const level = finding(
      assess({ total: () => 10, extra: { absolute_load: dead, manifold_pressure: manifold } }),
      'level',
    );
    expect(level.reasoning.join(' ')).toContain('Load is manifold pressure');
  });
});

describe('cells that are known poorly', () => {
  it('tells a thin cell beyond the limit without judging it', () => {
    const burst = { ...BRISK, load: 70, seconds: 5.4 };
    const answer = assess({ holds: [LIGHT, burst, LIGHT], total: (m) => (m.hold === burst ? 13 : 1) });
    expect(finding(answer, 'level').verdict).toBe('pass');
    expect(finding(answer, 'level').reasoning.join(' ')).toContain('held too briefly');
  });

  it('tells two operating points in one cell apart, so that the worse is not hidden', () => {
    const slow = { ...LIGHT, rpm: 1850, load: 27, seconds: 60 };
    const fast = { ...LIGHT, rpm: 2150, load: 33, seconds: 25 };
    const level = finding(assess({ holds: [slow, fast], total: (m) => (m.hold === fast ? 19 : 6) }), 'level');
    expect(level.verdict).toBe('fail');
    expect(Math.abs((level.measured?.value ?? 0) - 19)).toBeLessThan(0.5);
  });

  it('judges a wide interval that lies wholly beyond the limit', () => {
    const answer = assess({
      holds: [LIGHT, { ...BRISK, load: 70, seconds: 14 }, LIGHT],
      total: (m) => (m.hold.load > 60 ? 18 + m.since : 1),
    });
    expect(finding(answer, 'level').verdict).toBe('fail');
  });
});

describe('not assessed', () => {
  it.each<[string, Partial<TrimScript>, RegExp]>([
    ['a cold engine', { coolant: () => 52 }, /never got warm.*52/],
    ['open loop throughout', { holds: TEN_MINUTES.map((h) => ({ ...h, status: 1 })) }, /Closed loop was never seen/],
    ['trims of exactly zero', { swing: { percent: 0, hz: 1 }, noisePercent: 0 }, /exactly zero/],
    ['no trims', { drop: ['short_term_fuel_trim_1', 'long_term_fuel_trim_1'] }, /No fuel trim/],
    ['no engine speed', { drop: ['engine_speed'] }, /Engine speed is not logged/],
  ])('%s', (_, script, why) => {
    const answer = assess({ total: () => (script.noisePercent === 0 ? 0 : 12), ...script });
    expect(answer.findings.map((f) => f.verdict)).not.toContain('pass');
    expect(finding(answer, 'level').verdict).toBe('not-assessed');
    expect(finding(answer, 'level').reasoning.join(' ')).toMatch(why);
  });
});

describe('pattern', () => {
  const causes = (script: Partial<TrimScript>, build?: Build) =>
    finding(assess(script, build), 'level')
      .causes.map((c) => c.cause)
      .join(' | ');
  const leak = { total: (m: Moment) => (standing(m) ? 14 : 3) };
  const starved = { total: (m: Moment) => 0.17 * m.hold.load };

  it('reads a leak, a shortage, a constant and a rich idle', () => {
    expect(causes(leak)).toMatch(/^Unmetered air/);
    expect(causes(starved)).toMatch(/^Fuel delivery/);
    expect(causes({ total: () => 11 })).toMatch(/^Injector flow/);
    expect(causes({ total: (m) => (standing(m) ? -12 : -1) })).toMatch(/Leaking injector.*purge.*dead time/);
  });

  it('names the blend by stoichiometry', () => {
    // E-514 and E-516: 14.09692 for E10 and 9.813292 for E85 against petrol of 14.7, derived from published densities.
    const trim = 100 * (14.09692 / 9.813292 - 1);
    const level = finding(assess({ total: () => trim, longTerm: () => 20 }, aBuild({ ethanolPercent: 10 })), 'level');
    const blend = Number(/alone E(\d+) in the tank/.exec(level.reasoning.join(' '))?.[1]);
    expect(Math.abs(blend - 85)).toBeLessThanOrEqual(1);
    expect(finding(assess({ total: () => -11 }, aBuild({ ethanolPercent: 0 })), 'level').reasoning.join(' ')).toContain(
      'No petrol and ethanol blend',
    );
  });

  it('never blames an airflow meter that is unplugged by design', () => {
    const build = aBuild({ airflow: 'speed-density', expect: { disconnected: ['mass_air_flow'], ignoreCodes: [] } });
    const dead = { time: [0, 600], values: [0, 0] };
    for (const script of [leak, starved, { total: () => 11 }, { total: (m: Moment) => -0.17 * m.hold.load }]) {
      const answer = assess({ ...script, extra: { mass_air_flow: dead } }, build);
      expect(JSON.stringify(answer.findings)).not.toMatch(/mass air flow|\bMAF\b|air ?flow meter|the meter/i);
    }
    expect(causes(starved, build)).toMatch(/volumetric efficiency.*manifold pressure/);
    expect(causes(starved, aBuild({ airflow: 'mass-air-flow' }))).toMatch(/Mass air flow meter/);
  });
});

describe('drift', () => {
  it.each([
    [12, 'fail'],
    [-12, 'fail'],
    [7, 'warn'],
    [2, 'pass'],
  ])('%d %% over ten minutes is a %s', (change, verdict) => {
    const drift = finding(assess({ total: (m) => change * (m.t / 600 - 0.5) }), 'drift');
    expect(drift.verdict).toBe(verdict);
    expect(Math.abs((drift.measured?.value ?? 0) - Math.abs(change))).toBeLessThan(1);
  });

  it('leads the summary even where no level can be given', () => {
    const place = { ...LIGHT, seconds: 20 };
    const away = { ...BRISK, seconds: 70 };
    const answer = assess({ holds: [place, away, IDLE, away, place], total: (m) => (m.t - 110) / 12, rateHz: 10 });
    expect(finding(answer, 'drift').verdict).toBe('fail');
    expect(answer.summary).toContain('moves by');
  });

  it('does not take adaptation after a flash for drift, and tells it', () => {
    const answer = assess({ total: (m) => 2 + 11 * Math.exp(-m.t / 55) });
    expect(finding(answer, 'drift').verdict).toBe('pass');
    expect(finding(answer, 'level').verdict).toBe('pass');
    expect(finding(answer, 'level').reasoning.join(' ')).toContain('still adapting');
  });

  it('does not take the last of the warm-up for drift', () => {
    const coolant = (t: number) => Math.min(90, 20 + 0.28 * t);
    const answer = assess({ total: (m) => 1 + 0.3 * Math.max(0, 90 - coolant(m.t)), coolant });
    expect(finding(answer, 'drift').verdict).toBe('pass');
  });

  it('is not assessed in a short log', () => {
    expect(finding(assess({ holds: SHORT }), 'drift').verdict).toBe('not-assessed');
  });

  it('does not judge a region that was only visited while the trims adapted', () => {
    const holds = [IDLE, ...Array.from({ length: 6 }, () => [LIGHT, BRISK]).flat()];
    const answer = assess({ holds, total: (m) => (standing(m) ? 9 : 0) + 11 * Math.exp(-m.t / 40) });
    expect(finding(answer, 'adaptation').verdict).toBe('not-assessed');
  });
});

describe('bank split', () => {
  it.each([
    [12, 'fail'],
    [-12, 'fail'],
    [7.5, 'warn'],
    [2, 'pass'],
  ])('bank 2 at %d %% against 0 is a %s', (two, verdict) => {
    const split = finding(assess({ totalBank2: () => two }), 'bank-split');
    expect(split.verdict).toBe(verdict);
    expect(Math.abs((split.measured?.value ?? 0) - Math.abs(two))).toBeLessThan(0.6);
  });

  it('is not assessed on an inline engine, even where columns of zeros stand for bank 2', () => {
    const zeros = { time: [0, 300, 600], values: [0, 0, 0] };
    const answer = assess({ total: () => 12, extra: { short_term_fuel_trim_2: zeros, long_term_fuel_trim_2: zeros } });
    expect(finding(answer, 'bank-split').verdict).toBe('not-assessed');
    expect(finding(answer, 'bank-split').reasoning.join(' ')).toContain('inline engine');
    expect(finding(answer, 'level').verdict).toBe('warn');
  });

  it('suspects swapped sensors where the banks run apart', () => {
    const split = finding(assess({ total: () => 12, totalBank2: () => -12 }), 'bank-split');
    expect(split.causes[0].cause).toContain('swapped');
  });
});

describe('a step that stays', () => {
  // A hose comes off two thirds into the log: every cell holds readings from before and after.
  it.each([-21, 19])('of %d %% is no pass of the level and a fail of the drift', (percent) => {
    const lasts = TEN_MINUTES.reduce((sum, hold) => sum + hold.seconds, 0);
    const answer = assess({ total: (m) => (m.t > 0.66 * lasts ? percent : 1) });
    expect(finding(answer, 'level').verdict).not.toBe('pass');
    expect(finding(answer, 'drift').verdict).toBe('fail');
  });
});
