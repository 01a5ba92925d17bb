import { describe, expect, it } from 'vitest';
import { speedRises } from '../../src/drive/torque/acceleration-windows.ts';
import { torqueEstimate } from '../../src/drive/torque/estimate.ts';
import type { TorqueRoute } from '../../src/drive/torque/route.ts';
import { aBuild } from '../support/build-sheet.ts';
import { TORQUE_SHEET, type TorqueTruth, torqueDrive } from '../support/torque-drive.ts';

const peakOf = (route: TorqueRoute) => (route.ok ? route.pulls[0].peak : undefined);
const estimate = (truth: TorqueTruth = {}, sheet = TORQUE_SHEET) => torqueEstimate(torqueDrive(truth), sheet);
const off = (nm: number | undefined, truth: number) => Math.abs((nm ?? 0) / truth - 1);

describe('both routes', () => {
  it.each([200, 300, 420])('find %d N m within 8 %, by airflow and by acceleration', (peakNm) => {
    const { routes, pulls } = estimate({ peakNm });
    expect(off(peakOf(routes.airflow)?.nm, peakNm)).toBeLessThan(0.08);
    expect(off(peakOf(routes.acceleration)?.nm, peakNm)).toBeLessThan(0.08);
    expect(pulls[0].agree).toBe(true);
    expect(pulls[0].peak.by).toBe('both routes');
    expect(pulls[0].peak.low).toBeLessThan(peakNm);
    expect(pulls[0].peak.high).toBeGreaterThan(peakNm);
  });
  it.each([5, 10, 50])('hold at %d Hz', (rateHz) => {
    const { routes } = estimate({ rateHz });
    expect(off(peakOf(routes.airflow)?.nm, 300)).toBeLessThan(0.08);
    expect(off(peakOf(routes.acceleration)?.nm, 300)).toBeLessThan(0.08);
  });
  it('place the peak at its engine speed', () => {
    const rpm = peakOf(estimate().routes.acceleration)?.rpm ?? 0;
    expect(Math.abs(rpm - 3200)).toBeLessThan(700);
  });
  it('weigh each by its uncertainty: together they are surer than either', () => {
    const { airflow, acceleration, peak } = estimate().pulls[0];
    expect(peak.relativeSigma).toBeLessThan(Math.min(airflow?.relativeSigma ?? 0, acceleration?.relativeSigma ?? 0));
  });
  it('that disagree leave the higher one', () => {
    const [high] = estimate({ nmPerGram: 45 }).pulls;
    expect(high.agree).toBe(false);
    expect(high.peak.by).toBe('airflow');
    const [low] = estimate({ nmPerGram: 140 }).pulls;
    expect(low.peak.by).toBe('acceleration');
    expect(low.ratio).toBeGreaterThan(1.4);
  });
});

describe('acceleration', () => {
  it('finds the gearing from road speed where the gear is not known', () => {
    const route = estimate({ gear: undefined }).routes.acceleration;
    expect(off(peakOf(route)?.nm, 300)).toBeLessThan(0.08);
    expect(route.ok && route.notes[0]).toMatch(/road speed over engine speed/);
  });
  it('says the gearing of like pulls once', () => {
    const one = torqueDrive();
    const drive = { ...one, pulls: [1, 2, 3].map((id) => ({ ...one.pulls[0], id })) };
    const route = torqueEstimate(drive, TORQUE_SHEET).routes.acceleration;
    expect(route.ok && route.notes.filter((note) => note.includes('for each radian'))).toEqual([
      expect.stringMatching(/^Pulls 1, 2, 3: 0\.\d+ m for each radian of the engine, by build sheet\.$/),
    ]);
  });
  it('works by gear alone, without road speed', () =>
    expect(off(peakOf(estimate({ leaveOut: ['vehicle_speed'] }).routes.acceleration)?.nm, 300)).toBeLessThan(0.08));
  it('says what is missing', () => {
    const blind = estimate({ gear: undefined, leaveOut: ['vehicle_speed'] }).routes.acceleration;
    expect(blind.ok ? [] : blind.missing).toContain('vehicle_speed');
    const weightless = estimate({}, aBuild()).routes.acceleration;
    expect(weightless.ok ? [] : weightless.missing).toEqual(['vehicle.mass']);
  });
  it('tells a gear that road speed contradicts', () => {
    const route = estimate({ gear: 4 }).routes.acceleration;
    expect(route.ok && route.notes[0]).toMatch(/Road speed says 2[12] % less: wheelspin, clutch slip/);
  });
  it('has a slope of the road that it cannot see inside its interval', () => {
    const { acceleration } = estimate({ slope: -0.007 }).pulls[0];
    const apart = Math.abs(Math.log((acceleration?.peak.nm ?? 0) / 300));
    expect(apart).toBeLessThan(1.96 * (acceleration?.relativeSigma ?? 0));
  });
  it('takes slopes over windows: noise of 20 rpm still leaves a few percent', () => {
    const drive = torqueDrive({ noiseRpm: 20 });
    const rises = speedRises(drive, drive.pulls[0]);
    const usual = 4200 / (drive.pulls[0].endS - drive.pulls[0].startS);
    for (const rise of rises) expect(rise.sigma / usual).toBeLessThan(0.05);
    expect(off(peakOf(estimate({ noiseRpm: 20 }).routes.acceleration)?.nm, 300)).toBeLessThan(0.1);
  });
});

describe('airflow', () => {
  it('leaves a meter that never moves aside', () => {
    const route = estimate({ more: { mass_air_flow: 125 } }).routes.airflow;
    expect(route.ok && route.notes[0]).toMatch(/speed-density/);
  });
  it('says what is missing', () => {
    const route = estimate({ leaveOut: ['charge_air_temperature'] }).routes.airflow;
    expect(route.ok ? [] : route.missing).toEqual(
      expect.arrayContaining(['charge_air_temperature', 'injector_pulse_width', 'injectors.flow']),
    );
  });
  it('falls back on injected fuel, where injectors and mixture are known', () => {
    // 300 N m at 80 N m/g are 3.75 g of air and 3.75 / (0.82 × 14.7) g of fuel a cycle; 4 injectors of 600 cc/min pass
    // 4 × 600 × 0.745 / 60 000 = 0.0298 g/ms: 10.44 ms open and 1 ms dead.
    const route = estimate(
      { torque: () => 300, leaveOut: ['charge_air_temperature'], more: { injector_pulse_width: 11.44 } },
      {
        ...TORQUE_SHEET,
        injectors: { ...TORQUE_SHEET.injectors, flowCcMin: 600, ratedPressureKpa: 300, deadTime: [[14, 1]] },
      },
    ).routes.airflow;
    expect(off(peakOf(route)?.nm, 300)).toBeLessThan(0.03);
    expect(route.ok && route.notes[0]).toMatch(/injected fuel/);
  });
  it('is wider where volumetric efficiency is assumed', () => {
    const assumed = { ...TORQUE_SHEET, engine: { ...TORQUE_SHEET.engine, volumetricEfficiency: undefined } };
    expect(estimate({}, assumed).pulls[0].airflow?.relativeSigma ?? 0).toBeGreaterThan(
      estimate().pulls[0].airflow?.relativeSigma ?? 1,
    );
  });
});
