import { describe, expect, it } from 'vitest';
import type { Analyser } from '../../src/analysers/analyser.ts';
import { boostCreep } from '../../src/analysers/boost-creep.ts';
import { boostOvershoot } from '../../src/analysers/boost-overshoot.ts';
import { boostSpike } from '../../src/analysers/boost-spike.ts';
import { boostTarget } from '../../src/analysers/boost-target.ts';
import { fuelPressure } from '../../src/analysers/fuel-pressure.ts';
import { mixture } from '../../src/analysers/mixture.ts';
import { sensorHealth } from '../../src/analysers/sensor-health.ts';
import { torque } from '../../src/analysers/torque.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { correctionField } from '../../src/drive/correction/cells.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { stepBasis } from '../../src/drive/next-step/basis.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { boostDrive, spoolThen } from '../support/boost-signals.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { normalDeviates } from '../support/drive-script.ts';
import { BARO_KPA, intoPull, manifoldAt, mixtureDrive } from '../support/mixture-drive.ts';
import { withReadingsReplaced } from '../support/replaced-readings.ts';
import { TORQUE_SHEET, torqueDrive } from '../support/torque-drive.ts';

const ALL = [boostCreep, boostOvershoot, boostSpike, boostTarget, fuelPressure, mixture, sensorHealth, torque];
const limits: LimitTable = new Map(
  ALL.flatMap(({ meta }) => meta.limits.map((limit) => [limit.id, { ...limit, from: 'default' as const }])),
);

function assess(analyser: Analyser, drive: Drive, build: Build) {
  const { findings } = analyser.assess(drive, { build, limits, codes: [] });
  return { verdict: worst(findings), said: findings.flatMap(({ reasoning }) => reasoning).join(' '), findings };
}

/** From so many seconds into each of the pulls with these numbers on, one value. */
const stuckIn =
  (ids: readonly number[], fromS: number, value: number) =>
  (read: number, t: number): number => {
    const into = intoPull(t);
    return into !== undefined && into >= fromS && ids.includes(t > 60 ? 2 : 1) ? value : read;
  };

describe('lambda that freezes in a pull', () => {
  const lean = (ids: readonly number[]) =>
    mixtureDrive({ error: (into) => (into > 3 ? 0.12 : 0), logsTarget: true, change: stuckIn(ids, 2.5, 0.8213) });

  it('hides a lean top: not assessed where it froze in every pull', () => {
    const { drive, build } = lean([1, 2]);
    const { verdict, said } = assess(mixture, drive, build);
    expect(verdict).toBe('not-assessed');
    expect(said).toContain('Pull 1 is not judged: lambda read 0.821 without any change from 46.50 s');
    expect(assess(sensorHealth, drive, build).said).toContain('Lambda read 0.821');
  });
  it('suggests no correction of what it would have measured', () => {
    const fullLoad = (ids: readonly number[]) => {
      const { drive, build } = lean(ids);
      return correctionField(drive, build).cells.filter(({ source, enough }) => source === 'full load' && enough);
    };
    expect(fullLoad([1, 2])).toEqual([]);
    // The top is 0.12 lean in the pull in which it lives; the frozen one would halve that.
    expect(Math.max(...fullLoad([1]).map(({ ratio }) => ratio))).toBeGreaterThan(1.1);
  });
  it('leaves the pulls in which it lives', () => {
    const { drive, build } = lean([1]);
    const { verdict, said, findings } = assess(mixture, drive, build);
    expect(verdict).toBe('fail');
    expect(said).toContain('Pull 1 is not judged');
    expect(findings[0].where.every(({ pull }) => pull === 2)).toBe(true);
  });
  it('is none where it is steady, coarse or slow', () => {
    for (const script of [{ noise: 0 }, { change: (x: number) => Math.round(x * 50) / 50 }, { rateHz: 2 }]) {
      const { drive, build } = mixtureDrive({ ...script, logsTarget: true });
      expect(assess(mixture, drive, build).verdict).not.toBe('not-assessed');
      expect(assess(mixture, drive, build).said).not.toContain('is not judged');
    }
  });
});

describe('manifold pressure that freezes in a pull', () => {
  const build = aBuild({ boost: { targetKpa: 80 } });
  const pulls = [{ truth: spoolThen(80, 1, (s) => (38 * s) / 3.85) }, { truth: spoolThen(80, 1) }];
  const healthy = boostDrive({ pulls, stepKpa: 0.1 });
  const frozenIn = (ids: readonly number[]) =>
    withReadingsReplaced(healthy, 'manifold_pressure', (value, t) =>
      healthy.pulls.some(({ id, startS, endS }) => ids.includes(id) && t > startS + 1.8 && t <= endS) ? 178.3 : value,
    );

  it('is no level to step up from', () => {
    expect(stepBasis(frozenIn([1, 2]))).toBeUndefined();
    expect(stepBasis(frozenIn([1]))?.pulls.map(({ pull }) => pull.id)).toEqual([2]);
  });
  it.each([boostCreep, boostOvershoot, boostSpike, boostTarget])('leaves nothing to say: $meta.id', (analyser) => {
    const { verdict, said } = assess(analyser, frozenIn([1, 2]), build);
    expect(verdict).toBe('not-assessed');
    expect(said).toContain('manifold pressure read 178.3 kPa without any change');
  });
  it('is judged in the other pull, and told', () => {
    expect(assess(boostCreep, healthy, build).verdict).toBe('fail');
    const first = assess(boostCreep, frozenIn([2]), build);
    expect(first.verdict).toBe('fail');
    expect(first.said).toContain('Pull 2: not judged, manifold pressure read 178.3 kPa');
    expect(assess(boostCreep, frozenIn([1]), build).verdict).toBe('pass');
  });
  it('cannot hide a breach of the ceiling before it', () => {
    const low = aBuild({ boost: { targetKpa: 80, ceilingKpa: 70 } });
    const verdicts = [boostCreep, boostOvershoot, boostSpike].map(
      (each) => assess(each, frozenIn([1, 2]), low).verdict,
    );
    expect(verdicts).toContain('fail');
  });
});

describe('rail pressure that freezes in a pull', () => {
  interface Script {
    readonly ids?: readonly number[];
    readonly rateHz?: number;
    readonly follow?: number;
    readonly stepKpa?: number;
    readonly noise?: number;
    readonly setKpa?: number;
    readonly fallPercent?: number;
  }
  function railDrive(script: Script = {}) {
    const { ids = [], rateHz = 20, follow = 1, stepKpa = 0.1, noise = 1, setKpa = 300, fallPercent = 0 } = script;
    const { drive } = mixtureDrive({ rateHz });
    const time = drive.recording.channels.get('engine_speed')?.time ?? new Float64Array(0);
    const deviate = normalDeviates(11);
    const manifold = time.map((t) => manifoldAt(t));
    const rail = time.map((t, i) => {
      const fall = (intoPull(t) ?? 0) > 3 ? fallPercent : 0;
      const level = setKpa * (1 - fall / 100) + follow * (manifold[i] - BARO_KPA) + noise * deviate();
      return stuckIn(ids, 2.5, setKpa + follow * 100)(stepKpa * Math.round(level / stepKpa), t);
    });
    const of = (id: 'engine_speed' | 'accelerator_position' | 'vehicle_speed') => {
      const channel = drive.recording.channels.get(id);
      return { time: channel?.time ?? [], values: channel?.values ?? [], rateHz };
    };
    const channels = {
      engine_speed: of('engine_speed'),
      accelerator_position: of('accelerator_position'),
      vehicle_speed: of('vehicle_speed'),
      manifold_pressure: { time, values: manifold.map((kpa) => kpa + 0.4 * deviate()), rateHz },
      fuel_rail_pressure: { time, values: rail, rateHz },
    };
    const build = aBuild({ injectors: { regulator: follow > 0 ? 'manifold-referenced' : 'fixed' } });
    return { drive: segmentDrive(recordingFrom({ channels, barometricKpa: BARO_KPA }), build), build };
  }

  it('hides a fall: not assessed, and sensor-health doubts it', () => {
    const { drive, build } = railDrive({ ids: [1, 2], fallPercent: 20 });
    const { verdict, said } = assess(fuelPressure, drive, build);
    expect(verdict).toBe('not-assessed');
    expect(said).toContain('fuel rail pressure read 400.0 kPa without any change');
    const health = assess(sensorHealth, drive, build);
    expect(health.findings.find(({ id }) => id === 'sensor-health.stuck')?.title).toBe(
      'Fuel rail pressure froze in a pull',
    );
  });
  it('leaves the other pull to show it', () => {
    const { drive, build } = railDrive({ ids: [1], fallPercent: 20 });
    const { verdict, said } = assess(fuelPressure, drive, build);
    expect(verdict).toBe('fail');
    expect(said).toContain('Pull 1 is not judged');
  });
  it.each([
    ['a fixed regulator', { follow: 0 }],
    ['a fixed regulator and a coarse sensor', { follow: 0, stepKpa: 10 }],
    ['a coarse sensor', { stepKpa: 3 }],
    ['a quiet sensor', { noise: 0 }],
    ['a quiet sensor on a fixed regulator', { noise: 0, follow: 0 }],
    ['a slow log', { rateHz: 2 }],
    ['direct injection', { setKpa: 12000, follow: 0, noise: 40, stepKpa: 10 }],
    ['direct injection in coarse steps', { setKpa: 12000, follow: 0, noise: 20, stepKpa: 100 }],
  ] as const)('is none with %s', (_, script) => {
    const { drive, build } = railDrive(script);
    expect(assess(sensorHealth, drive, build).said).not.toMatch(/on end in pull/);
    expect(assess(fuelPressure, drive, build).said).not.toMatch(/is not judged/);
  });
});

describe('air that freezes in a pull', () => {
  it('leaves torque to acceleration, or not known', () => {
    const drive = torqueDrive({ peakNm: 300 });
    const [pull] = drive.pulls;
    const frozen = withReadingsReplaced(drive, 'manifold_pressure', (value, t) =>
      t > pull.startS + 1 && t <= pull.endS ? 171.3 : value,
    );
    const both = assess(torque, frozen, TORQUE_SHEET);
    expect(both.said).toContain('manifold pressure froze in it');
    expect(both.findings[0].measured?.value).toBeGreaterThan(270);
    const massless = { ...TORQUE_SHEET, vehicle: { ...TORQUE_SHEET.vehicle, massKg: undefined } };
    const { verdict, said } = assess(torque, frozen, massless);
    expect(verdict).toBe('not-assessed');
    expect(said).toContain('is not reckoned by airflow');
  });
});
