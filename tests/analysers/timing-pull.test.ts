import { describe, expect, it } from 'vitest';
import { timingPull } from '../../src/analysers/timing-pull.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { type ChannelData, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates, scriptedDrive } from '../support/drive-script.ts';

const limits: LimitTable = new Map(timingPull.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));

/** Knock control's answer: up at once at `atS`, given back at `backPerS` deg per s. */
const knock =
  (atS: number, deg: number, backPerS = 1) =>
  (t: number) =>
    t < atS ? 0 : Math.max(0, deg - backPerS * (t - atS));

type Shape = (t: number) => number;
const none: Shape = () => 0;
const both =
  (...shapes: Shape[]): Shape =>
  (t) =>
    shapes.reduce((sum, shape) => sum + shape(t), 0);

interface Options {
  readonly rateHz?: number;
  readonly seed?: number;
  readonly noise?: number;
  readonly step?: number;
  /** Retard by cylinder; a missing one is quiet. */
  readonly cylinders?: Partial<Record<1 | 2 | 3 | 4, Shape>> | undefined;
  readonly global?: Shape;
  readonly more?: (base: Record<string, ChannelData>) => Partial<Record<ChannelId, ChannelData>>;
  readonly base?: Record<string, ChannelData>;
}

/** Pulls at 44–50 s and 66–72 s, 2,500 to 6,700 rpm, 700 rpm per s. */
function assess(options: Options = {}) {
  const { rateHz = 20, seed = 1, noise = 0, step = 0 } = options;
  const base: Record<string, ChannelData> = options.base ?? baseRun(rateHz, 5, seed);
  const { time } = base.engine_speed;
  const deviate = normalDeviates(seed + 500);
  const sampled = (shape: Shape): ChannelData => ({
    time,
    rateHz,
    values: Array.from(time, (t) => {
      const value = shape(t) + noise * deviate();
      return step > 0 ? step * Math.round(value / step) : value;
    }),
  });
  const channels: Partial<Record<ChannelId, ChannelData>> = { ...base };
  if (options.cylinders) {
    for (const cylinder of [1, 2, 3, 4] as const) {
      channels[`knock_retard_${cylinder}`] = sampled(options.cylinders[cylinder] ?? none);
    }
  }
  if (options.global) channels.knock_retard = sampled(options.global);
  Object.assign(channels, options.more?.(base));
  const build = aBuild();
  const drive = segmentDrive(recordingFrom({ channels }), build);
  const result = timingPull.assess(drive, { build, limits, codes: [] });
  const byId = (id: string) => result.findings.find((finding) => finding.id === `timing-pull.${id}`);
  return { ...result, verdict: worst(result.findings), byId, peak: byId('peak'), repeat: byId('repeat') };
}

const on = (base: Record<string, ChannelData>, shape: Shape): ChannelData => ({
  ...base.engine_speed,
  values: Array.from(base.engine_speed.time, shape),
});

describe('knock retard', () => {
  it('of nothing passes and says what would have shown', () => {
    const { verdict, peak, repeat } = assess({ cylinders: {} });
    expect(verdict).toBe('pass');
    expect(peak?.detectable).toMatch(/20\.0 Hz retard of 0\.6° or more/);
    expect(repeat?.detectable).toBeTruthy();
  });

  for (const rateHz of [2, 4, 10, 20, 50, 100]) {
    it(`of 6° on cylinder 3 fails at ${rateHz} Hz and names the cylinder`, () => {
      const { peak, verdict } = assess({ rateHz, cylinders: { 3: knock(47, 6) } });
      expect(verdict).toBe('fail');
      expect(peak?.title).toContain('Cylinder 3');
      expect(peak?.measured?.value).toBeGreaterThan(5);
      expect(peak?.measured?.value).toBeLessThanOrEqual(6);
      expect(peak?.measured?.high).toBeGreaterThanOrEqual(5.95);
      // At 47 s the script is at 2,500 + 3 × 700 = 4,600 rpm.
      expect(Math.abs((peak?.where[0].rpm?.[0] ?? 0) - 4600)).toBeLessThan(20 + 700 / rateHz);
      expect(peak?.where[0].pull).toBe(1);
      expect(peak?.causes[0].cause).toContain('cylinder 3');
      expect(peak?.next[0]).toContain('No further full-load pull');
    });
  }

  it.each([
    [1.9, 'pass'],
    [2.05, 'warn'],
    [4.9, 'warn'],
    [5.05, 'fail'],
  ] as const)('of %d° is judged %s', (deg, verdict) =>
    expect(assess({ cylinders: { 2: knock(47, deg, 0.5) } }).peak?.verdict).toBe(verdict),
  );

  it('stepped up by degrees without an edge is still judged', () => {
    const { peak } = assess({
      cylinders: { 1: (t) => (t < 46 ? 0 : t < 49 ? 1.2 * (t - 46) : Math.max(0, 3.6 - (t - 49))) },
    });
    expect(peak?.verdict).toBe('warn');
    expect(peak?.reasoning.join(' ')).toContain('built up step by step');
  });

  it('on all cylinders at once fails, and the fuel is suspected rather than a cylinder', () => {
    const all = knock(47, 6);
    const { peak } = assess({ cylinders: { 1: all, 2: all, 3: all, 4: all } });
    expect(peak?.verdict).toBe('fail');
    expect(peak?.title).toMatch(/^All cylinders are retarded by 6\.0° at/);
    expect(peak?.where).toHaveLength(1);
    expect(peak?.reasoning.join(' ')).toContain('Pull 1, cylinders 1, 2, 3 and 4: 6.0°');
    expect(peak?.causes[0].cause).toContain('fuel');
    expect(peak?.next.join(' ')).toContain('plugs of all cylinders');
  });

  it('is placed with boost, charge temperature and lambda, and their part is weighed', () => {
    const { peak, tables } = assess({
      cylinders: { 3: knock(47, 6) },
      more: (base) => ({
        manifold_pressure: on(base, () => 201.325),
        charge_air_temperature: on(base, () => 68),
        lambda: on(base, () => 0.93),
      }),
    });
    expect(peak?.reasoning.join(' ')).toContain('100.0 kPa boost, charge at 68 °C, lambda 0.930');
    const cause = (words: string) => peak?.causes.find((c) => c.cause.includes(words));
    expect(cause('too hot')?.for).toHaveLength(1);
    expect(cause('lean')?.for).toHaveLength(1);
    const events = tables.find((t) => t.id === 'timing-pull.events');
    expect(events?.rows[0].slice(0, 2)).toEqual(['cylinder 3', '1']);
    const peaks = tables.find((t) => t.id === 'timing-pull.peaks');
    expect(peaks?.rows[2].slice(0, 2)).toEqual(['cylinder 3', expect.closeTo(6, 0)]);
    expect(peaks?.rows[0]).toEqual(['cylinder 1', 0, 0]);
  });

  it('for the engine as a whole is judged, and the log is said not to name the cylinder', () => {
    const { peak, needs } = assess({ global: knock(47, 6) });
    expect(peak?.verdict).toBe('fail');
    expect(peak?.reasoning[0]).toContain('does not say which cylinder');
    expect(needs.join(' ')).toContain('knock_retard_1');
  });

  it('of a global channel counts where only some cylinders are logged', () => {
    const { peak } = assess({
      more: (base) => ({ knock_retard_1: on(base, none), knock_retard: on(base, knock(47, 6)) }),
    });
    expect(peak?.verdict).toBe('fail');
    expect(peak?.reasoning.join(' ')).toContain('cylinder 1 of 4 only');
  });
});

describe('repetition', () => {
  it('of 3.5° on one cylinder at one engine speed in both pulls fails', () => {
    const { repeat, verdict, summary } = assess({ cylinders: { 3: both(knock(47, 4, 2), knock(69.2, 3.5, 2)) } });
    expect(repeat?.verdict).toBe('fail');
    expect(repeat?.measured?.value).toBeCloseTo(3.5, 1);
    expect(repeat?.title).toMatch(/Cylinder 3 .* pulls 1 and 2/);
    expect(repeat?.where.map((w) => w.pull)).toEqual([1, 2]);
    expect(verdict).toBe('fail');
    expect(summary).toContain('pulls 1 and 2');
  });
  it('names every cylinder on which as much returns, and only the pulls that reach it', () => {
    const alike = both(knock(47, 4, 2), knock(69.2, 4, 2));
    const { repeat, peak } = assess({ cylinders: { 1: alike, 3: alike, 4: both(knock(47, 3.2, 2)) } });
    expect(repeat?.title).toMatch(/^Cylinders 1 and 3 are retarded by 4\.0° or more near .* in pulls 1 and 2$/);
    expect(peak?.title).toMatch(/^Cylinders 1, 3 and 4 are retarded by up to 4\.0° at/);
    expect(assess({ cylinders: { 2: alike, 4: knock(47, 2.4, 2) } }).peak?.title).toMatch(/^Cylinder 2 is retarded/);
    expect(assess({ global: alike }).repeat?.title).toMatch(/^Timing is retarded by 4\.0° or more/);
  });
  it('below the limit is told and passes; the peak still warns', () => {
    const { repeat, peak } = assess({ cylinders: { 3: both(knock(47, 4, 2), knock(69, 2.8, 2)) } });
    expect(repeat?.verdict).toBe('pass');
    expect(repeat?.measured?.value).toBeCloseTo(2.8, 1);
    expect(peak?.verdict).toBe('warn');
  });
  it('needs the same cylinder and the same band', () => {
    expect(assess({ cylinders: { 3: both(knock(46, 4, 2), knock(70, 4, 2)) } }).repeat?.verdict).toBe('pass');
    expect(assess({ cylinders: { 2: knock(47, 4, 2), 3: knock(69, 4, 2) } }).repeat?.verdict).toBe('pass');
  });
  for (const rateHz of [2, 4, 10, 50]) {
    it(`shows at ${rateHz} Hz`, () =>
      expect(assess({ rateHz, cylinders: { 3: both(knock(47, 4.5), knock(69, 4.5)) } }).repeat?.verdict).toBe('fail'));
  }
  it('cannot be judged from one pull', () => {
    const base = scriptedDrive({
      rateHz: 20,
      stretches: [
        { seconds: 10, rpm: [2500, 2500], pedal: [18, 18], speed: [40, 40] },
        { seconds: 6, rpm: [2500, 6700], pedal: [100, 100], speed: [40, 110] },
        { seconds: 4, rpm: [6700, 3000], pedal: [0, 0], speed: [110, 50] },
      ],
    });
    const { repeat, verdict } = assess({ base, cylinders: {} });
    expect(repeat?.verdict).toBe('not-assessed');
    expect(verdict).toBe('pass');
  });
});

describe('a single blip', () => {
  const blip =
    (atS: number, deg: number): Shape =>
    (t) =>
      Math.abs(t - atS) < 0.02 ? deg : 0;
  it('small passes and is told', () => {
    const { verdict, peak } = assess({ cylinders: { 2: blip(47, 1.5) } });
    expect(verdict).toBe('pass');
    expect(peak?.reasoning.join(' ')).toContain('a blip and not a pattern');
  });
  it('large warns, and does not fail', () => {
    const { verdict, peak } = assess({ cylinders: { 2: blip(47, 7) } });
    expect(verdict).toBe('warn');
    expect(peak?.title).toContain('a single blip');
  });
  it('that comes back in the next pull is a pattern', () =>
    expect(assess({ cylinders: { 2: both(blip(47, 7), blip(69, 7)) } }).verdict).toBe('fail'));
});

describe('torque management', () => {
  it('on one cylinder alone as the driver lifts is knock: no controller manages torque with one cylinder', () => {
    const { verdict } = assess({ cylinders: { 3: both(knock(49.9, 7.4), knock(71.9, 7.4)) } });
    expect(verdict).toBe('fail');
  });
  it('at the lift is told as such, never as knock', () => {
    const lift: Shape = (t) => (t >= 49.85 && t < 50.6 ? 9 : t >= 71.9 && t < 72.5 ? 8 : 0);
    for (const options of [{ global: lift }, { cylinders: { 1: lift, 2: lift, 3: lift, 4: lift } }]) {
      const { verdict, byId, peak } = assess(options);
      expect(verdict).toBe('pass');
      expect(peak?.measured?.value).toBe(0);
      expect(byId('torque-management')?.reasoning.join(' ')).toContain('lift');
    }
  });
  it('is not what one cylinder does alone at the end of the pull', () =>
    expect(assess({ cylinders: { 3: knock(49.85, 6, 2) } }).peak?.verdict).toBe('fail'));

  const shifting = (rateHz: number) =>
    scriptedDrive({
      rateHz,
      stretches: [
        { seconds: 10, rpm: [2500, 2500], pedal: [20, 20], speed: [42, 42] },
        { seconds: 4, rpm: [2500, 6800], pedal: [100, 100], speed: [42, 113] },
        { seconds: 0.3, rpm: [6800, 4500], pedal: [100, 100], speed: [113, 113] },
        { seconds: 4, rpm: [4500, 6700], pedal: [100, 100], speed: [113, 168] },
        { seconds: 4, rpm: [6700, 3000], pedal: [0, 0], speed: [168, 75] },
      ],
    });
  for (const rateHz of [10, 20, 50]) {
    it(`in a gear change under full pedal is told as such at ${rateHz} Hz`, () => {
      const cut: Shape = (t) => (t >= 13.95 && t < 14.45 ? 12 : 0);
      const { verdict, byId } = assess({ rateHz, base: shifting(rateHz), global: cut });
      expect(verdict).toBe('pass');
      expect(byId('torque-management')?.reasoning.join(' ')).toContain('gear change');
    });
  }
  it('with the throttle closing inside a pull is traction, not knock', () => {
    const slip: Shape = (t) => (t >= 46.5 && t < 47 ? 8 : 0);
    const { verdict, byId } = assess({
      global: slip,
      more: (base) => ({
        throttle_position: on(base, (t) =>
          t >= 46.5 && t < 47 ? 60 : (t > 44 && t < 50) || (t > 66 && t < 72) ? 100 : 5,
        ),
      }),
    });
    expect(verdict).toBe('pass');
    expect(byId('torque-management')?.reasoning.join(' ')).toMatch(/throttle closes by 40 points/);
  });
  it('with a steady throttle is knock all the same', () =>
    expect(
      assess({
        global: (t) => (t >= 46.5 && t < 47 ? 8 : 0),
        more: (base) => ({ throttle_position: on(base, (t) => ((t > 44 && t < 50) || (t > 66 && t < 72) ? 100 : 5)) }),
      }).verdict,
    ).toBe('fail'));
  it('at idle and overrun is told and not judged', () => {
    const { verdict, byId } = assess({ global: (t) => (t >= 10 && t < 12 ? 8 : t > 53 && t < 54 ? 10 : 0) });
    expect(verdict).toBe('pass');
    expect(byId('torque-management')?.reasoning.join(' ')).toMatch(/idle/);
  });
});

describe('temperature compensation', () => {
  /** Charge temperature climbs through each pull and cools slowly; retard is a tenth of a degree per kelvin above 40 °C. */
  const charge: Shape = (t) => {
    const start = [44, 66].find((s) => t >= s && t < s + 22) ?? Number.NaN;
    if (Number.isNaN(start)) return 30;
    return t < start + 6 ? 30 + 6 * (t - start) : Math.max(30, 66 - 4 * (t - start - 6));
  };
  const compensation: Shape = (t) => Math.max(0, 0.1 * (charge(t) - 40));
  const hot = (base: Record<string, ChannelData>) => ({ charge_air_temperature: on(base, charge) });
  const all = { 1: compensation, 2: compensation, 3: compensation, 4: compensation };
  for (const rateHz of [4, 10, 20, 50]) {
    for (const step of [0, 0.25, 1]) {
      it(`equal on all cylinders is told apart at ${rateHz} Hz in steps of ${step}°`, () => {
        const { verdict, byId } = assess({ rateHz, step, cylinders: all, more: hot });
        expect(verdict).toBe('pass');
        expect(byId('temperature')?.reasoning.join(' ')).toContain('follows charge temperature');
        expect(Math.abs((byId('temperature')?.measured?.value ?? 0) - 2.6)).toBeLessThan(0.5 + step / 2);
      });
    }
  }
  it('does not hide knock on one cylinder on top of it', () => {
    const { peak } = assess({ cylinders: { ...all, 3: both(compensation, knock(47, 6)) }, more: hot });
    expect(peak?.verdict).toBe('fail');
    expect(peak?.title).toContain('Cylinder 3');
    expect(peak?.measured?.value).toBeCloseTo(6, 0);
  });
  it('for the engine as a whole is told apart where it follows the temperature closely', () => {
    const { verdict, byId } = assess({ global: compensation, more: hot });
    expect(verdict).toBe('pass');
    expect(byId('temperature')).toBeDefined();
  });
  it('for the engine as a whole does not hide knock', () =>
    expect(assess({ global: both(compensation, knock(47, 6)), more: hot }).peak?.verdict).toBe('fail'));
  it('without a logged charge temperature is only probable, and warns where it is large', () => {
    const { byId, verdict } = assess({ cylinders: all });
    expect(byId('temperature')?.verdict).toBe('warn');
    expect(verdict).toBe('warn');
  });
  it('is not what rises with engine speed against a steady temperature', () => {
    const rising: Shape = (t) => ([44, 66].some((s) => t >= s && t < s + 6) ? 0.9 * ((t - 44) % 22) : 0);
    const { verdict } = assess({
      cylinders: { 1: rising, 2: rising, 3: rising, 4: rising },
      more: (base) => ({ charge_air_temperature: on(base, () => 35) }),
    });
    expect(verdict).toBe('fail');
  });
});

describe('the channel itself', () => {
  it('that only goes below zero is a mapping question, never a pass', () => {
    const { verdict, byId, peak } = assess({ global: (t) => -knock(47, 6)(t) });
    expect(verdict).toBe('warn');
    expect(peak?.verdict).toBe('not-assessed');
    expect(byId('sign')?.reasoning.join(' ')).toContain('"scale": -1');
  });
  it('with a small standing offset is told; knock is judged above it', () => {
    const { verdict, byId, peak } = assess({ global: both(() => 1.5, knock(47, 1)) });
    expect(verdict).toBe('pass');
    expect(byId('offset')?.measured?.value).toBeCloseTo(1.5, 1);
    expect(peak?.measured?.value).toBeCloseTo(1, 1);
  });
  it('with a large standing offset warns', () =>
    expect(assess({ global: () => 3 }).byId('offset')?.verdict).toBe('warn'));
  it('too slow to show retard gives no pass, but what it shows counts', () => {
    expect(assess({ rateHz: 1, cylinders: {} }).peak?.verdict).toBe('not-assessed');
    expect(assess({ rateHz: 1, cylinders: { 3: knock(46.9, 7, 0.5) } }).peak?.verdict).toBe('fail');
  });
  it('that took only two values is not taken for a coarse one', () => {
    const { peak } = assess({ global: (t) => (t >= 50 && t < 50.4 ? 12 : 0) });
    expect(peak?.detectable).toContain('retard of 0.9° or more');
  });
  it('that is open leaves the answer open, whatever else is in order', () => {
    const slow = assess({ rateHz: 1, global: (t) => (t >= 50 && t < 52 ? 9 : 0) });
    expect(slow.byId('torque-management')).toBeDefined();
    expect(slow.verdict).toBe('not-assessed');
  });
  it('that is not logged is named', () => {
    const { verdict, needs } = assess();
    expect(verdict).toBe('not-assessed');
    expect(needs.join(' ')).toContain('knock_retard');
  });
});

describe('target minus actual advance', () => {
  const target: Shape = (t) => {
    const start = [44, 66].find((s) => t >= s && t <= s + 6);
    if (start === undefined) return 30;
    const into = t - start;
    return into < 1 ? 30 - 18 * into : 12 + 1.2 * (into - 1);
  };
  const spark =
    (retard: Shape, wander: Shape = none) =>
    (base: Record<string, ChannelData>) => ({
      spark_advance_target: on(base, target),
      spark_advance: on(base, (t) => target(t) - retard(t) + wander(t)),
    });
  const idleWander: Shape = (t) => (t > 5 && t < 22 ? 6 * Math.sin(3 * t) : 0);
  for (const rateHz of [4, 10, 20]) {
    it(`shows knock at ${rateHz} Hz and is said to be inferred`, () => {
      const { peak } = assess({ rateHz, more: spark(knock(47, 6.5)) });
      expect(peak?.verdict).toBe('fail');
      expect(peak?.reasoning.join(' ')).toContain('inferred');
    });
    it(`raises no alarm at ${rateHz} Hz where the spark does as asked, idle control aside`, () =>
      expect(assess({ rateHz, more: spark(none, idleWander) }).verdict).toBe('pass'));
  }
  it('with a standing difference tells it and judges above', () => {
    const { verdict, byId } = assess({ more: spark(() => 1.5) });
    expect(verdict).toBe('pass');
    expect(byId('offset')).toBeDefined();
  });

  const only = (retard: Shape) => (base: Record<string, ChannelData>) => ({
    spark_advance: on(base, (t) => target(t) - retard(t)),
  });
  it('without a target: a sudden drop of 3° or more warns (common practice, no source)', () => {
    for (const rateHz of [10, 20, 50]) {
      const { verdict, peak } = assess({ rateHz, more: only(knock(48, 5)) });
      expect(verdict).toBe('warn');
      expect(peak?.title).toContain('inferred');
    }
  });
  it('without a target: the slope of the table is no drop', () => {
    for (const rateHz of [10, 20, 50]) expect(assess({ rateHz, more: only(none) }).verdict).toBe('pass');
  });
  it('without a target: a slow log cannot answer', () =>
    expect(assess({ rateHz: 2, more: only(none) }).verdict).toBe('not-assessed'));
});

it('gives no false alarm over 200 seeds of noise, rates and steps, and no miss of a clear fault', () => {
  const rates = [2, 4, 10, 20, 50];
  let falseAlarms = 0;
  let misses = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const shape = { rateHz: rates[seed % 5], seed, noise: 0.02 * (seed % 8), step: [0, 0.25, 0.5, 0.75, 1][seed % 3] };
    const small = knock(45 + (seed % 40) / 10, 1.2, 1);
    if (assess({ ...shape, cylinders: { 2: small } }).verdict !== 'pass') falseAlarms++;
    const atS = 45 + (seed % 40) / 10;
    if (assess({ ...shape, cylinders: { 4: knock(atS, 6.5, 0.8) } }).verdict !== 'fail') misses++;
  }
  expect({ falseAlarms, misses }).toEqual({ falseAlarms: 0, misses: 0 });
}, 60_000);
