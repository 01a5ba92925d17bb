import { describe, expect, it } from 'vitest';
import { chargeTemperature } from '../../src/analysers/charge-temperature.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';
import { BARO_KPA, intoPull, manifoldAt, PULL_S, PULL_STARTS } from '../support/mixture-drive.ts';

const limits: LimitTable = new Map(
  chargeTemperature.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]),
);
const BASE_C = 35;

interface Script {
  readonly rateHz?: number;
  /** Charge at the end of a pull, °C; it climbs in a straight line from where it was. */
  readonly endC?: number;
  /** Time constant of cooling down, s. */
  readonly tauS?: number;
  readonly noise?: number;
  readonly stepC?: number;
  readonly as?: 'charge_air_temperature' | 'intake_air_temperature';
  readonly inletC?: number;
  readonly change?: (c: number, t: number) => number;
}

/** Rises by a straight line in each pull, decays to the base after it. */
function truth(t: number, endC: number, tauS: number): number {
  let level = BASE_C;
  for (const startS of PULL_STARTS) {
    if (t < startS) break;
    const next = PULL_STARTS.find((s) => s > startS) ?? Number.POSITIVE_INFINITY;
    if (t <= startS + PULL_S) return level + ((endC - BASE_C) * (t - startS)) / PULL_S;
    const end = level + endC - BASE_C;
    level = BASE_C + (end - BASE_C) * Math.exp(-(Math.min(t, next) - startS - PULL_S) / tauS);
  }
  return level;
}

function assess(script: Script = {}) {
  const { rateHz = 10, endC = 50, tauS = 3, noise = 0.1, stepC = 0, as = 'charge_air_temperature' } = script;
  const base = baseRun(Math.max(rateHz, 5), 5, 1);
  const deviate = normalDeviates(9);
  const time = Array.from({ length: Math.floor(89 * rateHz) }, (_, i) => i / rateHz);
  const values = time.map((t) => {
    const c = truth(t, endC, tauS) + noise * deviate();
    const stepped = stepC > 0 ? stepC * Math.round(c / stepC) : c;
    return script.change ? script.change(stepped, t) : stepped;
  });
  const channels = {
    ...base,
    manifold_pressure: {
      time: base.engine_speed.time,
      values: Array.from(base.engine_speed.time, (t) => manifoldAt(t)),
    },
    [as]: { time, values, rateHz },
    ...(script.inletC === undefined
      ? {}
      : {
          intake_air_temperature: {
            time,
            values: time.map((_, i) => (script.inletC as number) + 0.1 * (i % 2)),
            rateHz,
          },
        }),
  };
  const build = aBuild();
  const drive = segmentDrive(recordingFrom({ channels, barometricKpa: BARO_KPA }), build);
  const result = chargeTemperature.assess(drive, { build, limits, codes: [] });
  const byId = (id: string) => result.findings.find((finding) => finding.id === `charge-temperature.${id}`);
  return { ...result, verdict: worst(result.findings), peak: byId('peak'), byId };
}

describe('peak of charge temperature', () => {
  for (const rateHz of [1, 2, 5, 10, 50]) {
    it.each([
      [50, 'pass'],
      [68, 'warn'],
      [90, 'fail'],
    ])(`of %f °C is %s at ${rateHz} Hz`, (endC, verdict) => {
      const { peak } = assess({ rateHz, endC });
      expect(peak?.verdict).toBe(verdict);
      const peakOfSecond = BASE_C + (endC - BASE_C) * (1 + Math.exp(-16 / 3));
      // Held half a second on a peak that falls by a third in a second: some kelvin are lost, more at 1 Hz.
      expect(peak?.measured?.value).toBeLessThan(peakOfSecond + 1);
      expect(peak?.measured?.value).toBeGreaterThan(peakOfSecond - 0.2 * (endC - BASE_C) - 0.5);
    });
  }
  it('at the limit trips it', () => {
    const flat = (c: number) => assess({ noise: 0, change: (_, t) => ((intoPull(t) ?? 0) > 2 ? c : 40) }).peak?.verdict;
    expect(flat(59.9)).toBe('pass');
    expect(flat(60)).toBe('warn');
    expect(flat(75)).toBe('fail');
  });
  it('tells rise, slope at the end and what would have shown', () => {
    const { peak } = assess();
    // 15 K in 6 s are 2.5 K/s.
    expect(peak?.reasoning.join(' ')).toMatch(/At the end of pull \d it still climbed by 2\.[45]/);
    expect(peak?.reasoning.join(' ')).toMatch(/a rise of 1[345](\.\d)? K/);
    expect(peak?.detectable).toContain('would have shown');
  });
  it('leaves electrical jumps and impossible readings out', () => {
    const { peak } = assess({
      change: (c, t) => (Math.abs(t - 47) < 0.25 ? 120 : Math.abs(t - 48.5) < 1e-6 ? 200 : c),
    });
    expect(peak?.verdict).toBe('pass');
    expect(peak?.reasoning.join(' ')).toContain('there and back');
    expect(peak?.reasoning.join(' ')).toContain('1 reading outside');
  });
});

describe('between pulls', () => {
  it.each([3, 6])('a time constant of %f s is found', (tauS) => {
    const said = /time constant of about ([\d.]+) s/.exec(assess({ endC: 60, tauS }).peak?.reasoning.join(' ') ?? '');
    expect(Math.abs(Number(said?.[1]) - tauS)).toBeLessThan(0.2 * tauS + 0.3);
  });
  it('heat that stays builds up and is told', () => {
    const { byId, peak } = assess({ endC: 55, tauS: 60 });
    expect(byId('soak')?.title).toContain('Heat builds up');
    expect(byId('soak')?.measured?.value).toBeCloseTo(20 * Math.exp(-16 / 60), -0.5);
    expect(peak?.reasoning.join(' ')).toContain('not recovered');
    expect(assess().byId('soak')?.title).toContain('recovers');
  });
});

describe('charge cooler', () => {
  it('effectiveness comes from pressure ratio, efficiency 0.70 and both temperatures', () => {
    // E-306: 25 °C at a ratio of 2 and 0.70 is 118.28 °C behind the compressor; (118.28 − 50)/(118.28 − 25) = 0.732.
    const { byId } = assess({ inletC: 25, noise: 0, change: (_, t) => ((intoPull(t) ?? 0) > 2 ? 50 : 30) });
    expect(byId('cooler')?.measured?.value).toBeCloseTo(73.2, 0);
    expect(byId('cooler')?.measured?.low).toBeLessThan(72);
    expect(byId('cooler')?.measured?.high).toBeGreaterThan(75);
  });
  it('a weak one is named as the cause', () => {
    const { byId, peak } = assess({ inletC: 25, endC: 95 });
    expect(byId('cooler')?.title).toContain('weak');
    expect(peak?.causes[0].cause).toContain('cooler');
    expect(peak?.causes[0].for.length).toBe(1);
  });
});

describe('what is no answer', () => {
  it('intake temperature is taken with a word of doubt', () => {
    const { verdict, peak, needs } = assess({ as: 'intake_air_temperature' });
    expect(verdict).toBe('pass');
    expect(peak?.reasoning[0]).toContain('whether it sits behind the cooler is not known');
    expect(needs).toEqual(['charge_air_temperature']);
  });
  it('and not where boost leaves it unmoved', () =>
    expect(assess({ as: 'intake_air_temperature', endC: BASE_C }).verdict).toBe('not-assessed'));
  it('a reading that stands still', () => expect(assess({ change: () => 30 }).verdict).toBe('not-assessed'));
  it('none at all', () => {
    const build = aBuild();
    const drive = segmentDrive(recordingFrom({ channels: baseRun(10) }), build);
    const result = chargeTemperature.assess(drive, { build, limits, codes: [] });
    expect(worst(result.findings)).toBe('not-assessed');
    expect(result.needs).toContain('charge_air_temperature');
  });
});

describe('a sensor that measures nothing', () => {
  it.each([
    ['open', () => -40],
    ['open, with a digit of dither', (_: number, t: number) => (t % 1 < 0.5 ? -40 : -39)],
    ['shorted', (_: number, t: number) => (t % 1 < 0.5 ? 215 : 214)],
  ] as const)('%s is no answer', (_, change) => {
    for (const rateHz of [1, 10]) {
      const { peak, verdict, needs, byId } = assess({ rateHz, change, inletC: 25 });
      expect(verdict).toBe('not-assessed');
      expect(peak?.measured).toBeUndefined();
      expect(needs).toEqual(['charge_air_temperature']);
      expect(byId('cooler')).toBeUndefined();
    }
  });
  it('is not a charge of -20 °C', () => {
    expect(assess({ change: (c) => c - 55 }).peak?.verdict).toBe('pass');
  });
});
