import { describe, expect, it } from 'vitest';
import { fuelPressure } from '../../src/analysers/fuel-pressure.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';
import { BARO_KPA, intoPull, manifoldAt } from '../support/mixture-drive.ts';

const limits: LimitTable = new Map(fuelPressure.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));

interface Script {
  readonly rateHz?: number;
  /** kPa of rail for each kPa of manifold. */
  readonly follow?: number;
  /** Fall of the differential in a pull, %, by seconds into it. */
  readonly fall?: (into: number) => number;
  readonly setKpa?: number;
  readonly noise?: number;
  readonly stepKpa?: number;
  readonly target?: ((t: number) => number) | undefined;
  readonly noManifold?: boolean;
  readonly boostKpa?: number;
  readonly sheet?: Parameters<typeof aBuild>[0];
  readonly change?: (rail: number, t: number) => number;
  readonly volts?: number;
}

function assess(script: Script = {}) {
  const { rateHz = 20, follow = 1, fall = () => 0, setKpa = 300, noise = 1, stepKpa = 0, boostKpa = 100 } = script;
  const base = baseRun(rateHz, 5, 1);
  const { time } = base.engine_speed;
  const deviate = normalDeviates(5);
  const rail = Array.from(time, (t) => {
    const manifold = manifoldAt(t, boostKpa);
    const held = setKpa + follow * (manifold - BARO_KPA);
    const across = held + BARO_KPA - manifold;
    const value = held - (across * fall(intoPull(t) ?? 0)) / 100 + noise * deviate();
    const stepped = stepKpa > 0 ? stepKpa * Math.round(value / stepKpa) : value;
    return script.change ? script.change(stepped, t) : stepped;
  });
  const of = (value: (t: number) => number) => ({ time, values: Array.from(time, value), rateHz });
  const channels = {
    ...base,
    fuel_rail_pressure: { time, values: rail, rateHz },
    ...(script.noManifold ? {} : { manifold_pressure: of((t) => manifoldAt(t, boostKpa)) }),
    ...(script.target ? { fuel_rail_pressure_target: of(script.target) } : {}),
    ...(script.volts === undefined ? {} : { battery_voltage: of(() => script.volts as number) }),
  };
  const build = aBuild(script.sheet ?? { injectors: { regulator: 'manifold-referenced' } });
  const drive = segmentDrive(recordingFrom({ channels, barometricKpa: BARO_KPA }), build);
  const result = fuelPressure.assess(drive, { build, limits, codes: [] });
  const byId = (id: string) => result.findings.find((finding) => finding.id === `fuel-pressure.${id}`);
  return { ...result, verdict: worst(result.findings), drop: byId('drop'), byId };
}

const fixed = { injectors: { regulator: 'fixed' as const } };
/** Grows from nothing two seconds into the pull to `percent` at its end. */
const growing = (percent: number) => (into: number) => (percent * Math.max(0, into - 2)) / 4;

describe('differential', () => {
  for (const rateHz of [2, 5, 10, 20, 50]) {
    it.each([
      [0, 'pass'],
      [9, 'warn'],
      [20, 'fail'],
    ])(`down by %f % at the top is %s at ${rateHz} Hz`, (percent, verdict) => {
      const { drop } = assess({ rateHz, fall: growing(percent) });
      expect(drop?.verdict).toBe(verdict);
      // A running median over 0.4 s sees a fall that grows by 1/4 of it a second some tenths late.
      expect(drop?.measured?.value).toBeGreaterThan(0.86 * percent - 0.5);
      expect(drop?.measured?.value).toBeLessThan(percent + 1);
      if (percent > 0) {
        expect(drop?.where.map((w) => w.pull)).toEqual([1, 2]);
        expect(drop?.causes[0].cause).toContain('Pump, filter or line');
        expect(drop?.reasoning.join(' ')).toContain('grows with engine speed');
      } else expect(drop?.detectable).toContain('would have shown');
    });
  }

  it('tells the flow lost by the square root', () => {
    // E-218: a tenth less pressure is 1 − √0.9 = 5.13 % less fuel.
    const { drop } = assess({ noise: 0.01, fall: (into) => (into > 2 ? 10 : 0) });
    expect(drop?.measured?.value).toBeCloseTo(10, 1);
    expect(drop?.reasoning.join(' ')).toContain('5.1 % less fuel');
  });

  it('says how soon pressure is back', () => {
    expect(assess({ fall: growing(20) }).drop?.reasoning.join(' ')).toMatch(/back 0\.\d+ s after the pull/);
  });

  it('leaves lone slips out', () => {
    const { drop } = assess({ change: (x, t) => (Math.abs(t - 47) < 1e-6 ? 40 : x) });
    expect(drop?.verdict).toBe('pass');
    expect(drop?.reasoning.join(' ')).toContain('1 lone or impossible reading');
  });

  it('of a coarse channel carries its step', () => {
    const { drop } = assess({ stepKpa: 10 });
    expect(drop?.verdict).toBe('pass');
    expect((drop?.measured?.high ?? 0) - (drop?.measured?.low ?? 0)).toBeGreaterThan(3);
  });

  it('names low voltage', () => {
    const supply = assess({ fall: growing(20), volts: 12.1 }).drop?.causes.find(({ cause }) =>
      cause.includes('voltage'),
    );
    expect(supply?.for[0]).toContain('12.1 V');
  });
});

describe('regulators', () => {
  it.each([
    [1, 'manifold-referenced', undefined],
    [0, 'fixed', fixed],
    [1.8, 'rising-rate', undefined],
  ])('that follow by %f are told from the data as %s', (follow, kind, sheet) => {
    const { byId, verdict } = assess({ follow, ...(sheet ? { sheet } : {}) });
    expect(byId('reference')?.title).toContain(kind);
    expect(byId('reference')?.measured?.value).toBeCloseTo(follow, 1);
    expect(verdict).toBe('pass');
  });
  it('fixed by the sheet, boost takes from the differential and that is told, not blamed', () => {
    // E-217 in kind: 300 + 100 − 200 = 200 kPa are left of 368 at idle.
    const { drop } = assess({ follow: 0, sheet: fixed });
    expect(drop?.verdict).toBe('pass');
    expect(drop?.reasoning.join(' ')).toMatch(/Across the injector \d+\.\d kPa are left there/);
    expect(assess({ follow: 0, sheet: fixed, fall: growing(20) }).drop?.verdict).toBe('fail');
  });
  it('that should follow and do not are a fault: the hose', () => {
    const { drop, byId } = assess({ follow: 0 });
    expect(drop?.verdict).toBe('fail');
    expect(byId('reference')?.verdict).toBe('warn');
    expect(drop?.causes.find(({ cause }) => cause.includes('hose'))?.for).not.toEqual([]);
    expect(drop?.causes[0].for.length).toBeGreaterThan(0);
  });
  it('that should follow and do not leave the pressure at rest as set: the vacuum alone is no fault', () => {
    // Hose off: 300 kPa stand in the rail, and 68 kPa of vacuum at idle are not the regulator's.
    const set = { injectors: { regulator: 'manifold-referenced' as const, fuelPressureKpa: 300 } };
    const { byId } = assess({ follow: 0, sheet: set });
    expect(byId('reference')?.verdict).toBe('warn');
    expect(byId('base')?.verdict).toBe('pass');
    expect(assess({ follow: 0, sheet: set, setKpa: 350 }).byId('base')?.verdict).toBe('warn');
  });

  it('that stay put with a silent sheet are a question', () => {
    const { drop, verdict } = assess({ follow: 0, sheet: {} });
    expect(drop?.verdict).toBe('pass');
    expect(verdict).toBe('warn');
  });
  it('that follow against the sheet are a question', () =>
    expect(assess({ follow: 1, sheet: fixed }).byId('reference')?.verdict).toBe('warn'));
});

describe('target and base', () => {
  const target = (t: number) => 300 + manifoldAt(t) - BARO_KPA;
  it('is judged where it is logged', () => {
    expect(assess({ target }).drop?.reasoning[0]).toContain('target');
    expect(assess({ target }).verdict).toBe('pass');
    expect(assess({ target, fall: (into) => (into > 2 ? 20 : 0) }).drop?.verdict).toBe('fail');
  });
  it('serves direct injection, which nothing else can judge', () => {
    const direct = { setKpa: 15000, follow: 0, noise: 40, sheet: {} };
    expect(assess({ ...direct, target: () => 15000 }).verdict).toBe('pass');
    expect(assess({ ...direct, target: () => 15000, fall: growing(25) }).drop?.verdict).toBe('fail');
    const alone = assess(direct);
    expect(alone.verdict).toBe('not-assessed');
    expect(alone.needs).toEqual(['fuel_rail_pressure_target']);
  });
  it('at rest is held against the build sheet', () => {
    const sheet = { injectors: { regulator: 'manifold-referenced' as const, fuelPressureKpa: 300 } };
    expect(assess({ sheet }).byId('base')?.verdict).toBe('pass');
    expect(assess({ sheet, setKpa: 250 }).byId('base')?.verdict).toBe('warn');
  });
});

describe('what is no answer', () => {
  it('no manifold pressure with a referenced regulator', () => {
    const { verdict, needs } = assess({ noManifold: true });
    expect(verdict).toBe('not-assessed');
    expect(needs).toContain('manifold_pressure');
  });
  it('but a fixed one is judged by the rail itself', () => {
    expect(assess({ noManifold: true, follow: 0, sheet: fixed }).drop?.verdict).toBe('pass');
    expect(
      assess({ noManifold: true, follow: 0, sheet: fixed, change: (x, t) => ((intoPull(t) ?? 0) > 3 ? 0.8 * x : x) })
        .drop?.verdict,
    ).toBe('fail');
  });
  it('a reading that stands still', () => expect(assess({ change: () => 300 }).verdict).toBe('not-assessed'));
  it('no rail pressure', () => {
    const build = aBuild();
    const drive = segmentDrive(recordingFrom({ channels: baseRun(10) }), build);
    expect(worst(fuelPressure.assess(drive, { build, limits, codes: [] }).findings)).toBe('not-assessed');
  });
  it('noise that hides the limit', () => expect(assess({ noise: 45 }).verdict).not.toBe('pass'));
});
