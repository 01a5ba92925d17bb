import { describe, expect, it } from 'vitest';
import { mixture } from '../../src/analysers/mixture.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { intoPull, type MixtureScript, mixtureDrive } from '../support/mixture-drive.ts';

const limits: LimitTable = new Map(mixture.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));

function assess(script: MixtureScript = {}) {
  const { drive, build } = mixtureDrive(script);
  const result = mixture.assess(drive, { build, limits, codes: [] });
  const byId = (id: string) => result.findings.find((finding) => finding.id === `mixture.${id}`);
  return { ...result, verdict: worst(result.findings), byId, error: byId('lean-error'), limit: byId('lean-limit') };
}

/** Lean by `size` from four seconds into the pull, about 5,300 rpm, to its end. */
const leanAtTheTop = (size: number) => (into: number) => (into > 4 ? size : 0);

describe('measured against asked mixture', () => {
  for (const rateHz of [2, 5, 10, 20, 50]) {
    for (const logsTarget of [false, true]) {
      const where = `at ${rateHz} Hz ${logsTarget ? 'with a logged target' : "by the build sheet's lambda"}`;
      it(`that agree pass ${where}`, () => {
        const { error, verdict } = assess({ rateHz, logsTarget, seed: rateHz });
        expect(verdict).toBe('pass');
        expect(Math.abs(error?.measured?.value ?? 1)).toBeLessThan(0.012);
        expect(error?.detectable).toMatch(/would have shown/);
      });
      it.each([
        [0.045, 'warn'],
        [0.08, 'fail'],
      ])(`that differ by %f at the top: %s ${where}`, (size, verdict) => {
        const { error } = assess({ rateHz, logsTarget, error: leanAtTheTop(size), seed: rateHz });
        expect(error?.verdict).toBe(verdict);
        expect(error?.measured?.value).toBeGreaterThan(size - 0.008);
        expect(error?.measured?.value).toBeLessThan(size + 0.012);
        expect(error?.where.map((w) => w.pull)).toEqual([1, 2]);
        expect(error?.where[0].start).toBeGreaterThan(rateHz < 5 ? 47.4 : 47.9);
        expect(error?.next.length).toBeGreaterThan(2);
        expect(error?.causes.length).toBeGreaterThan(0);
      });
    }
  }

  it('places the lean stretch when it burnt, not when it was read', () => {
    const { error } = assess({
      rateHz: 50,
      deadS: 0.4,
      tauS: 0.1,
      logsTarget: true,
      error: (into) => (into > 3 && into < 4.5 ? 0.08 : 0),
    });
    expect(error?.verdict).toBe('fail');
    expect(Math.abs((error?.where[0].start ?? 0) - 47)).toBeLessThan(0.2);
    expect(Math.abs((error?.where[0].end ?? 0) - 48.5)).toBeLessThan(0.25);
  });

  it('does not blame what was held for less than 0.2 s, and blames what was held longer', () => {
    const lean = (seconds: number) =>
      assess({
        rateHz: 50,
        tauS: 0.02,
        logsTarget: true,
        error: (into) => (into > 4 && into <= 4 + seconds ? 0.1 : 0),
      });
    expect(lean(0.12).error?.verdict).toBe('pass');
    expect(lean(0.4).error?.verdict).toBe('fail');
  });

  it('says nothing of the enrichment itself, however late the sensor', () => {
    for (const [deadS, tauS] of [
      [0, 0.05],
      [0.3, 0.2],
      [0.5, 0.3],
    ]) {
      for (const logsTarget of [false, true]) {
        const { verdict, error } = assess({ deadS, tauS, logsTarget });
        expect(`${deadS} ${tauS} ${logsTarget} ${verdict}`).toBe(`${deadS} ${tauS} ${logsTarget} pass`);
        expect(error?.reasoning.join(' ')).toMatch(/Left out of pulls 1 and 2/);
      }
    }
  });

  it('blames an enrichment that comes far later than the lag explains', () => {
    const { limit } = assess({ asked: (into) => (into < 2.8 ? 1 : 0.82) });
    expect(limit?.verdict).toBe('fail');
    expect(limit?.where[0].end).toBeLessThan(47.1);
  });

  it('judges a pull whose boost climbs to its end', () => {
    const climbing: MixtureScript = {
      error: leanAtTheTop(0.08),
      more: (time) => ({
        manifold_pressure: {
          time,
          values: Array.from(time, (t) => {
            const into = intoPull(t);
            return into === undefined ? 50 : 50 + 45 * into;
          }),
        },
      }),
    };
    expect(assess(climbing).error?.verdict).toBe('fail');
    expect(assess({ ...climbing, error: () => 0 }).verdict).toBe('pass');
  });

  it('follows a target that moves through the pull', () => {
    const asked = (into: number) => 0.92 - 0.025 * into;
    expect(assess({ asked, logsTarget: true }).error?.verdict).toBe('pass');
    expect(assess({ asked, logsTarget: true, error: leanAtTheTop(0.05) }).error?.verdict).toBe('warn');
  });

  it('leaves lone readings out and says so', () => {
    const { error, verdict } = assess({ change: (x, t) => (Math.abs(t - 47) < 1e-6 ? x + 0.4 : x) });
    expect(verdict).toBe('pass');
    expect(error?.reasoning.join(' ')).toContain('1 lone or impossible reading');
  });

  it('one lone lean reading at a low rate warns and does not fail', () => {
    const { error } = assess({ rateHz: 3, change: (x, t) => (Math.abs(t - 48) < 0.1 ? x + 0.1 : x) });
    expect(error?.verdict).toBe('warn');
    expect(error?.reasoning.join(' ')).toContain('One reading alone');
  });

  it('at 1 Hz is no pass, but a lasting lean mixture still fails', () => {
    expect(assess({ rateHz: 1 }).verdict).toBe('not-assessed');
    expect(assess({ rateHz: 1, error: (into) => (into > 2 ? 0.09 : 0) }).verdict).toBe('fail');
  });

  it('leaves fuel cut inside a pull out', () => {
    const isCut = (into: number) => into > 4 && into < 4.3;
    const { error } = assess({
      error: (into) => (isCut(into) ? 0.6 : 0),
      more: (time) => ({
        injector_pulse_width: {
          time,
          values: Array.from(time, (t) => {
            const into = intoPull(t);
            return into === undefined ? 2 : isCut(into) ? 0 : 9;
          }),
        },
      }),
    });
    expect(error?.verdict).toBe('pass');
    expect(error?.reasoning.join(' ')).toContain('fuel cut and recovery');
  });

  it('too rich is told and is no fault', () => {
    const { byId, verdict } = assess({ error: leanAtTheTop(-0.06) });
    expect(byId('rich-error')?.measured?.value).toBeCloseTo(-0.06, 1.7);
    expect(verdict).toBe('pass');
    expect(assess().byId('rich-error')).toBeUndefined();
  });

  it('noise that hides the limit is no pass', () => expect(assess({ noise: 0.06, seed: 3 }).verdict).not.toBe('pass'));
});

describe('lag', () => {
  it.each([
    [0.1, 0.12],
    [0.3, 0.1],
    [0.05, 0.3],
  ])('of %f s and %f s is found from steps of the target', (deadS, tauS) => {
    const { error } = assess({ deadS, tauS, logsTarget: true, rateHz: 50 });
    const said = /measured ([\d.]+) s .* found by shifting/.exec(error?.reasoning.join(' ') ?? '');
    expect(Math.abs(Number(said?.[1]) - deadS - tauS)).toBeLessThan(0.08);
  });
  it('is found from fuel cuts without a target, and assumed without either', () => {
    expect(assess({}).error?.reasoning.join(' ')).toMatch(/0\.2\d s .* found in 2 fuel cuts .*, and removed/);
    expect(assess({ noPulse: true }).error?.reasoning.join(' ')).toContain('assumed');
  });
});

describe('lambda under boost', () => {
  const sheet = {};
  it('is judged alone where no target is known, and says what would help', () => {
    const { verdict, error, limit, needs } = assess({ sheet });
    expect(verdict).toBe('pass');
    expect(error?.verdict).toBe('not-assessed');
    expect(limit?.verdict).toBe('pass');
    expect(needs).toEqual(expect.arrayContaining(['lambda_target', 'mixture.fullLoadLambda']));
  });
  it.each([
    [0.9, 'warn'],
    [0.95, 'fail'],
    [0.86, 'pass'],
  ])('of %f is %s', (lambda, verdict) => {
    const { limit } = assess({ sheet, asked: () => lambda });
    expect(limit?.verdict).toBe(verdict);
    expect(Math.abs((limit?.measured?.value ?? 0) - lambda)).toBeLessThan(0.012);
  });
  it('is said to be asked for where the target itself is lean', () => {
    const { limit } = assess({ sheet, logsTarget: true, asked: () => 0.93 });
    expect(limit?.verdict).toBe('fail');
    expect(limit?.reasoning.join(' ')).toContain('It was asked for');
  });
  it('is not judged at little boost', () => {
    const { limit, verdict } = assess({ asked: () => 0.95, boostKpa: 30, sheet: { fullLoadLambda: 0.95 } });
    expect(limit).toBeUndefined();
    expect(verdict).toBe('pass');
  });
  it('needs manifold pressure, and without it and a target nothing is judged', () => {
    const { verdict, needs } = assess({ sheet, noManifold: true });
    expect(verdict).toBe('not-assessed');
    expect(needs).toContain('manifold_pressure');
  });
});

describe('what is no answer', () => {
  it('a reading that stands still', () => expect(assess({ change: () => 0.82 }).verdict).toBe('not-assessed'));
  it('a target column that never moves does not overrule the sheet', () => {
    const { error } = assess({
      error: () => 0.08,
      more: (time) => ({ lambda_target: { time, values: Array.from(time, () => 1) } }),
    });
    expect(error?.verdict).toBe('fail');
    expect(error?.reasoning.join(' ')).toContain('not taken for one');
  });
  it('no lambda', () => {
    const { drive, build } = mixtureDrive();
    const channels = new Map([...drive.recording.channels].filter(([id]) => id !== 'lambda'));
    const result = mixture.assess(
      { ...drive, recording: { ...drive.recording, channels } },
      { build, limits, codes: [] },
    );
    expect(worst(result.findings)).toBe('not-assessed');
    expect(result.needs).toEqual(['lambda']);
  });
  it('no pull', () => {
    const { drive, build } = mixtureDrive();
    const result = mixture.assess({ ...drive, pulls: [] }, { build, limits, codes: [] });
    expect(worst(result.findings)).toBe('not-assessed');
  });
});

describe('beside the mixture itself', () => {
  it('a target leaner than the build sheet is a question', () =>
    expect(assess({ logsTarget: true, asked: () => 0.87 }).byId('target')?.verdict).toBe('warn'));

  /** Airflow that the pulse width, injectors and lambda 0.82 account for, times a factor. */
  const air = (factor: number): MixtureScript => ({
    sheet: {
      fullLoadLambda: 0.82,
      injectors: {
        flowCcMin: 600,
        ratedPressureKpa: 300,
        fuelPressureKpa: 300,
        regulator: 'manifold-referenced',
        deadTime: [[14, 1]],
      },
    },
    more: (time, rpm) => ({
      mass_air_flow: {
        time,
        // 4 injectors × 600 cc/min × 0.745 kg/L / 60 × open share (9 − 1 ms of the cycle) × 0.82 × 14.7
        values: Array.from(time, (t, i) =>
          intoPull(t) === undefined ? 5 : (factor * 4 * 600 * 0.745 * 8 * rpm[i] * 0.82 * 14.7) / 60 / 120000,
        ),
      },
    }),
  });
  it('agrees with fuel and air delivered', () => {
    const agreement = assess(air(1)).byId('agreement');
    expect(agreement?.verdict).toBe('pass');
    expect(agreement?.measured?.value).toBeLessThan(1.5);
  });
  it('or does not, and says which side', () => {
    const agreement = assess(air(0.7)).byId('agreement');
    expect(agreement?.verdict).toBe('warn');
    expect(agreement?.measured?.value).toBeCloseTo(100 * (1 / 0.7 - 1), -0.5);
    expect(agreement?.causes[0].cause).toContain('Less fuel');
  });
  it('puts falling fuel pressure first among the causes', () => {
    const { error } = assess({
      error: leanAtTheTop(0.08),
      more: (time) => ({
        fuel_rail_pressure: {
          time,
          values: Array.from(time, (t) => 300 + (intoPull(t) === undefined ? -45 : 100 - 15 * (intoPull(t) as number))),
        },
      }),
    });
    expect(error?.causes[0].cause).toContain('Fuel pressure falls');
    expect(error?.causes[0].for[0]).toContain('across the injector');
  });
  it('shows a row for each pull', () => expect(assess().tables[0].rows.map((row) => row[0])).toEqual(['1', '2']));
});
