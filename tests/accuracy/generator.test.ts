import { describe, expect, it, vi } from 'vitest';
import { airPerCylinderG, torqueNm } from '../../fixtures/generator/air.ts';
import { type Car, drawCar } from '../../fixtures/generator/car.ts';
import { BAY_K, chargeTargetC, outletC } from '../../fixtures/generator/charge-heat.ts';
import { blend } from '../../fixtures/generator/fuelling.ts';
import { randomFrom } from '../../fixtures/generator/prng.ts';
import { sensorOf } from '../../fixtures/generator/sensors.ts';
import { stepTurbo, type TurboState } from '../../fixtures/generator/turbo.ts';
import { FAULT_KINDS, simulateCase } from '../support/simulate.ts';
import { isClear } from './outcome.ts';

vi.setConfig({ testTimeout: 60_000 });

describe('the generator', () => {
  it('makes the same bytes from the same options', () => {
    const [one, two] = [simulateCase({ seed: 5 }), simulateCase({ seed: 5 })];
    expect(Buffer.from(one.bytes).equals(two.bytes)).toBe(true);
    expect(one.truth).toEqual(two.truth);
  });

  it.each([0, 1, 2, 3, 4, 5, 6, 7])('clean car %i is well within every limit', (seed) => {
    const { truth } = simulateCase({ seed: `bounds ${seed}`, rateHz: 10 });
    expect(truth.pulls.length).toBeGreaterThanOrEqual(2);
    expect(truth.trimLevelPercent).toBeLessThan(5);
    expect(truth.trimDriftPercent).toBeLessThan(3);
    expect(truth.bankSplitPercent).toBeLessThan(3);
    for (const pull of truth.pulls) {
      expect(pull.settles).toBe(true);
      expect(pull.overshootPercent).toBeLessThan(6.5);
      expect(pull.creepKpa).toBeLessThan(4);
      expect(pull.spikeKpa).toBeLessThan(4);
      expect(pull.dutyPeakPercent).toBeLessThan(80);
      expect(Math.max(...pull.retardDeg)).toBeLessThan(1.25);
    }
  });

  it.each(FAULT_KINDS)('%s is a quarter beyond its limit', (fault) => {
    for (const level of ['warn', 'fail'] as const)
      expect(isClear(simulateCase({ seed: 'clear', fault, level, rateHz: 10 }))).toBe(true);
  });

  /** Overshoot of a second-order loop after a step: exp(-pi zeta / sqrt(1 - zeta^2)) (any textbook of control). */
  it.each([0.3, 0.45, 0.6])('overshoots a step as a second-order loop of damping ratio %f', (zeta) => {
    const car = drawCar(randomFrom('step'));
    Object.assign(car.turbo, { zeta, omega: 5, spoolKpaPerS: 1e6, slopeKpaPerRpm: 0, chokeKpa: 0, settledKpa: 100 });
    const state: TurboState = { boostKpa: 0, rateKpaPerS: 0, phase: 0 };
    let peak = 0;
    for (let i = 0; i < 20_000; i++) {
      stepTurbo(car, state, 5000, 1, 0.0002);
      peak = Math.max(peak, state.boostKpa);
    }
    expect(peak / 100 - 1).toBeCloseTo(Math.exp((-Math.PI * zeta) / Math.sqrt(1 - zeta * zeta)), 2);
  });

  /** SAE J1979 / ISO 15031-5 scalings: trim 100/128 %, pressure 1 kPa, advance 0.5 deg, engine speed 0.25 rpm. */
  it('writes one-byte channels in the steps of the standard', () => {
    expect(sensorOf('short_term_fuel_trim_2', 'one-byte').step).toBe(0.78125);
    expect(sensorOf('manifold_pressure', 'one-byte').step).toBe(1);
    expect(sensorOf('spark_advance', 'one-byte').step).toBe(0.5);
    expect(sensorOf('engine_speed', 'one-byte').step).toBe(0.25);
  });

  /** Stoichiometric ratio of ethanol 9.0 and of gasoline about 14.7 (from memory; E10 is usually given as 14.1). */
  it('mixes fuels by mass', () => {
    expect(blend(0).afr).toBeCloseTo(14.7, 6);
    expect(blend(100).afr).toBeCloseTo(9, 6);
    expect(blend(10).afr).toBeCloseTo(14.1, 1);
  });
});

const CARS = Array.from({ length: 200 }, (_, i) => drawCar(randomFrom(`drawn ${i}`)));
const settledC = (car: Car) => chargeTargetC(car, car.turbo.settledKpa, car.ambientC + BAY_K);

/** Brake work over the heat that the air can burn: petrol has 43.4 MJ/kg (U.S. DOE Alternative Fuels Data Center) and burns with 14.7 of air. */
function brakeEfficiency(car: Car, rpm: number): number {
  const manifoldKpa = car.barometricKpa + car.turbo.settledKpa;
  const airG = airPerCylinderG(car, rpm, manifoldKpa, settledC(car)) * car.cylinders;
  return (torqueNm(car, airG, rpm, manifoldKpa) * 4 * Math.PI) / ((airG / 14.7) * 43_400);
}

describe('a drawn engine', () => {
  // Boosted petrol engines at rich full load: about a third of the heat that their air can burn (common practice, no source).
  it('turns about a third of the heat of its air into work at full load, and none does much better', () => {
    const shares = CARS.map((car) => brakeEfficiency(car, car.vePeakRpm));
    expect(Math.min(...shares)).toBeGreaterThan(0.29);
    expect(Math.max(...shares)).toBeLessThan(0.38);
    expect(shares.reduce((sum, share) => sum + share, 0) / shares.length).toBeCloseTo(0.34, 2);
  });

  it('has a charge cooler that is sound, and keeps the settled charge below 60 °C on any day', () => {
    for (const car of CARS) {
      expect(car.heat.coolerEffectiveness).toBeGreaterThan(0.7);
      expect(car.heat.coolerEffectiveness).toBeLessThan(0.87);
      expect(settledC(car)).toBeLessThan(55);
      expect(settledC(car)).toBeGreaterThan(car.ambientC + 5);
    }
  });

  // T2s/T1 = PR^((γ−1)/γ): 1.219 at a pressure ratio of 2 and γ = 1.4 (isentropic tables of thermodynamics textbooks).
  it('heats its charge as a compressor does', () => {
    expect((outletC(20, 2, 1) + 273.15) / 293.15).toBeCloseTo(1.219, 3);
    expect(outletC(20, 2, 0.7) - 20).toBeCloseTo((293.15 * 0.219) / 0.7, 1);
    expect(outletC(20, 1, 0.7)).toBeCloseTo(20, 9);
  });
});
