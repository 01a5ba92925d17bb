import { describe, expect, it } from 'vitest';
import { fuelPressure } from '../../src/analysers/fuel-pressure.ts';
import { sensorHealth } from '../../src/analysers/sensor-health.ts';
import { torque } from '../../src/analysers/torque.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { torqueEstimate } from '../../src/drive/torque/estimate.ts';
import { airMassFlowGs } from '../../src/engine/speed-density.ts';
import { type ChannelData, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';
import { BARO_KPA, intoPull, manifoldAt } from '../support/mixture-drive.ts';
import { withReadingsReplaced } from '../support/replaced-readings.ts';
import { TORQUE_SHEET, torqueDrive } from '../support/torque-drive.ts';

const limits: LimitTable = new Map(
  [fuelPressure, torque].flatMap(({ meta }) =>
    meta.limits.map((limit) => [limit.id, { ...limit, from: 'default' as const }]),
  ),
);
const build = aBuild({ injectors: { regulator: 'manifold-referenced' } });

const LEVEL: Partial<Record<ChannelId, (t: number) => number>> = {
  coolant_temperature: () => 90,
  oil_temperature: () => 100,
  charge_air_temperature: (t) => 35 + 2 * (intoPull(t) ?? 0),
  mass_air_flow: (t) => (intoPull(t) === undefined ? 20 : 130 + 10 * (intoPull(t) ?? 0)),
  fuel_rail_pressure: (t) => 300 + manifoldAt(t) - BARO_KPA,
  battery_voltage: (t) => (t > 3 && t < 3.4 ? 8 : 14),
};

/** A base run in which one channel reads `value` at six moments of the pulls, for so long each. */
function drive(
  id: ChannelId,
  value: number | undefined,
  seconds = 0.2,
  rateHz = 20,
  starts = [45, 47, 49, 67, 69, 71],
): Drive {
  const base = baseRun(rateHz, 5, 1);
  const { time } = base.engine_speed;
  const deviate = normalDeviates(4);
  const isOff = (t: number) => starts.some((s) => t >= s - 1e-9 && t < s + seconds - 1e-9);
  const of = (level: (t: number) => number): ChannelData => ({ time, values: Array.from(time, level), rateHz });
  const level = LEVEL[id] ?? (() => 0);
  const channels = {
    ...base,
    manifold_pressure: of((t) => manifoldAt(t) + 0.4 * deviate()),
    [id]: of((t) => (value !== undefined && isOff(t) ? value : level(t) + 0.1 * deviate())),
  };
  return segmentDrive(recordingFrom({ channels, barometricKpa: BARO_KPA }), build);
}

function jumpsOf(of: Drive) {
  const { findings } = sensorHealth.assess(of, { build, limits: new Map(), codes: [] });
  const finding = findings.find(({ id }) => id === 'sensor-health.implausible');
  return { verdict: finding?.verdict, said: finding?.reasoning.join(' ') ?? '', measured: finding?.measured };
}

describe('a contact that opens for more than one reading', () => {
  it.each([
    ['coolant_temperature', 145, 0.3],
    ['coolant_temperature', -30, 1.5],
    ['oil_temperature', 160, 0.5],
    ['charge_air_temperature', 135, 0.2],
    ['charge_air_temperature', -39, 0.2],
    ['mass_air_flow', 500, 0.2],
    ['mass_air_flow', 0, 0.3],
    ['fuel_rail_pressure', 0, 0.2],
    ['battery_voltage', 4, 0.3],
  ] as const)('is doubted: %s at %d for %f s', (id, value, seconds) => {
    const { verdict, said } = jumpsOf(drive(id, value, seconds));
    expect(verdict).toBe('warn');
    expect(said).toContain('came back 6 times');
  });
  it('is doubted at 10 and 50 Hz as well', () => {
    for (const rateHz of [10, 50]) expect(jumpsOf(drive('coolant_temperature', 145, 0.3, rateHz)).verdict).toBe('warn');
  });
  it('once in a pull is enough, once elsewhere is told', () => {
    const once = jumpsOf(drive('coolant_temperature', 145, 0.3, 20, [47]));
    expect(once.verdict).toBe('warn');
    expect(once.measured).toMatchObject({ unit: 's', value: expect.closeTo(0.25) });
    expect(jumpsOf(drive('coolant_temperature', 145, 0.3, 20, [30])).verdict).toBe('pass');
  });
  it.each(Object.keys(LEVEL) as ChannelId[])('is not in a healthy %s, at any rate', (id) => {
    for (const rateHz of [1, 2, 5, 10, 20, 50]) {
      const { verdict, said } = jumpsOf(drive(id, undefined, 0, rateHz));
      expect(verdict).toBe('pass');
      // A starter that turns pulls the supply down for a reading or two of a slow log, which is told.
      if (id !== 'battery_voltage') expect(said).not.toMatch(/came back/);
    }
  });
  it('is not airflow that breaks off for a gear change, nor a rail outside the pulls', () => {
    expect(jumpsOf(drive('mass_air_flow', 100, 0.3, 20, [30, 32, 34, 36, 38, 40])).said).not.toMatch(/came back/);
  });
});

describe('a rail that reads nothing for a moment', () => {
  const result = fuelPressure.assess(drive('fuel_rail_pressure', 0, 0.2), { build, limits, codes: [] });
  const [drop] = result.findings;

  it('is no fall of pressure, and no pass either', () => {
    expect(drop.verdict).toBe('not-assessed');
    expect(drop.measured?.value).toBeLessThan(3);
    expect(drop.reasoning.join(' ')).toContain('6 times the rail went from');
    expect(drop.next[0]).toContain('plug');
  });
  it('does not hide a fall that lasts', () => {
    const falling = withReadingsReplaced(drive('fuel_rail_pressure', 0, 0.2), 'fuel_rail_pressure', (kpa, t) =>
      kpa > 100 && (intoPull(t) ?? 0) > 3 ? kpa - 60 : kpa,
    );
    expect(worst(fuelPressure.assess(falling, { build, limits, codes: [] }).findings)).toBe('fail');
  });
  it('where it stays away is a fall of 100 % at most, by its sensor first', () => {
    const noisy = withReadingsReplaced(drive('fuel_rail_pressure', undefined), 'fuel_rail_pressure', (kpa, t, i) =>
      (intoPull(t) ?? 0) > 3 ? (i * 7) % 5 : kpa,
    );
    const gone = fuelPressure.assess(noisy, { build, limits, codes: [] }).findings[0];
    expect(gone.verdict).toBe('fail');
    expect(gone.measured?.value).toBe(100);
    expect(gone.causes[0].cause).toContain('Not the pressure but its sensor');
  });
});

describe('airflow that jumps for a moment', () => {
  const truth = torqueDrive({ peakNm: 280 });
  const { manifold_pressure: manifold } = Object.fromEntries(truth.recording.channels);
  const air = manifold.values.map((kpa, i) =>
    airMassFlowGs({
      ve: 0.9,
      displacementL: 2,
      rpm: truth.engineSpeed[i],
      pressureKpaAbs: kpa,
      temperatureC: 45,
      strokes: 4,
    }),
  );
  const [pull] = truth.pulls;
  const metered = (spikeGs: number | undefined, seconds: number): Drive => {
    const isOff = (t: number) =>
      [0.3, 0.5, 0.75].some(
        (s) =>
          t >= pull.startS + s * (pull.endS - pull.startS) && t < pull.startS + s * (pull.endS - pull.startS) + seconds,
      );
    const values = air.map((gs, i) => (spikeGs !== undefined && isOff(manifold.time[i]) ? spikeGs : gs));
    const channels = Object.fromEntries(
      [...truth.recording.channels].map(([id, { time, values, rateHz }]) => [id, { time, values, rateHz }]),
    );
    const meter = { time: manifold.time, values, rateHz: 20 };
    return {
      ...truth,
      recording: recordingFrom({ channels: { ...channels, mass_air_flow: meter }, barometricKpa: 100 }),
    };
  };

  it('makes no torque', () => {
    const clean = torqueEstimate(metered(undefined, 0), TORQUE_SHEET).pulls[0].peak.nm;
    const [spiky] = torqueEstimate(metered(500, 0.2), TORQUE_SHEET).pulls;
    expect(Math.abs(spiky.peak.nm / clean - 1)).toBeLessThan(0.03);
    expect(spiky.agree).toBe(true);
  });
  it('where it lasts, the peaks disagree though the medians agree, and are not merged', () => {
    const [pullTorque] = torqueEstimate(metered(300, 0.8), TORQUE_SHEET).pulls;
    expect(pullTorque.agreeOverPull).toBe(true);
    expect(pullTorque.agree).toBe(false);
    expect(pullTorque.peak.by).toBe('airflow');
    const { findings } = torque.assess(metered(300, 0.8), { build: TORQUE_SHEET, limits, codes: [] });
    expect(findings[0].reasoning.join(' ')).toContain('lie further apart than their uncertainties allow');
    expect(findings[0].causes.map(({ cause }) => cause).join(' ')).toContain('over-read');
  });
});
