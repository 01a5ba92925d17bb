import { describe, expect, it } from 'vitest';
import { fuelPressure } from '../../src/analysers/fuel-pressure.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';
import { BARO_KPA, intoPull, manifoldAt, PULL_S, PULL_STARTS } from '../support/mixture-drive.ts';

const limits: LimitTable = new Map(fuelPressure.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));
const referenced = { regulator: 'manifold-referenced', fuelPressureKpa: 300 } as const;

/** A log of one pull and nothing else. Fall of the differential in %, by seconds into the pull. */
function pullOnly(script: {
  rateHz?: number;
  realKpa?: number;
  follow?: number;
  fall?: (into: number) => number;
  injectors?: NonNullable<Parameters<typeof aBuild>[0]>['injectors'];
}) {
  const { rateHz = 20, realKpa = 300, follow = 1, fall = () => 0, injectors = referenced } = script;
  const [startS] = PULL_STARTS;
  const deviate = normalDeviates(7);
  const isKept = (t: number) => t >= startS - 0.3 && t <= startS + PULL_S + 0.3;
  const cut = Object.entries(baseRun(rateHz, 5, 1)).map(([id, { time, values }]) => {
    const kept = Array.from(time, (_, i) => i).filter((i) => isKept(time[i]));
    return [id, { time: kept.map((i) => time[i]), values: kept.map((i) => values[i]), rateHz }] as const;
  });
  const channels = Object.fromEntries(cut);
  const time: readonly number[] = channels.engine_speed.time;
  const rail = time.map((t) => {
    const manifold = manifoldAt(t);
    const held = realKpa + follow * (manifold - BARO_KPA);
    return held - ((held + BARO_KPA - manifold) * fall(intoPull(t) ?? 0)) / 100 + deviate();
  });
  const all = {
    ...channels,
    manifold_pressure: { time, values: time.map((t) => manifoldAt(t)), rateHz },
    fuel_rail_pressure: { time, values: rail, rateHz },
  };
  const build = aBuild({ injectors });
  const drive = segmentDrive(recordingFrom({ channels: all, barometricKpa: BARO_KPA }), build);
  const result = fuelPressure.assess(drive, { build, limits, codes: [] });
  const drop = result.findings.find(({ id }) => id === 'fuel-pressure.drop');
  return { ...result, verdict: worst(result.findings), drop };
}
const growing = (percent: number) => (into: number) => (percent * Math.max(0, into - 2)) / 4;

describe('a log of pulls alone, with the pressure on the build sheet', () => {
  for (const rateHz of [5, 10, 20, 50]) {
    it.each([
      [0, 'pass'],
      [9, 'warn'],
      [25, 'fail'],
    ])(`down by %f % in the pull is %s at ${rateHz} Hz`, (percent, verdict) => {
      const { drop } = pullOnly({ rateHz, fall: growing(percent) });
      expect(drop?.verdict).toBe(verdict);
      expect(drop?.reasoning[0]).toMatch(/Neither idle nor cruise is in the log.*the build sheet sets/);
    });
  }
  it('has a wider interval than the readings alone', () => {
    const { low = 0, high = 0 } = pullOnly({}).drop?.measured ?? {};
    expect(high - low).toBeGreaterThan(10);
  });
  it('a pressure that is below the sheet throughout warns and does not fail, unless it is far below', () => {
    expect(pullOnly({ realKpa: 255 }).drop?.verdict).toBe('warn');
    expect(pullOnly({ realKpa: 220 }).drop?.verdict).toBe('fail');
    expect(pullOnly({ realKpa: 288 }).drop?.verdict).toBe('pass');
  });
  it('a rail set above the sheet has its own start to hold', () => {
    expect(pullOnly({ realKpa: 350 }).drop?.verdict).toBe('pass');
    const { drop } = pullOnly({ realKpa: 350, fall: growing(18) });
    expect(drop?.verdict).toBe('fail');
    expect(drop?.measured?.value).toBeGreaterThan(14);
  });
  it('a fixed regulator is held against the set rail pressure', () => {
    const injectors = { regulator: 'fixed', fuelPressureKpa: 400 } as const;
    expect(pullOnly({ realKpa: 400, follow: 0, injectors }).drop?.verdict).toBe('pass');
    expect(pullOnly({ realKpa: 400, follow: 0, injectors, fall: growing(30) }).drop?.verdict).toBe('fail');
  });
  it('is no answer where the sheet gives no pressure or no regulator', () => {
    expect(pullOnly({ injectors: { regulator: 'manifold-referenced' } }).verdict).toBe('not-assessed');
    const { verdict, needs } = pullOnly({ injectors: { fuelPressureKpa: 300 } });
    expect(verdict).toBe('not-assessed');
    expect(needs).toContain('injectors.fuelPressure');
  });
});
