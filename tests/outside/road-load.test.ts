import { describe, expect, test } from 'vitest';
import { engineTorqueNm, metresPerRadian } from '../../src/engine/driveline-torque.ts';
import { aerodynamicForceN, gradeForceN, rollingForceN, tractiveForceN } from '../../src/engine/road-load.ts';
import { rotatingMassShare } from '../../src/engine/rotating-mass.ts';
import { expectRelative } from './relative.ts';

// Worked in full from Newton's law, the definition of the drag coefficient and standard gravity (NIST SP 811): 1500 kg,
// 3.5 m/s², 30 m/s, rolling coefficient 0.012, Cd 0.32 × 2.2 m², air 1.2 kg/m³, flat road.
const CAR = {
  massKg: 1500,
  rotatingShare: 0,
  accelerationMs2: 3.5,
  speedMs: 30,
  rollingCoefficient: 0.012,
  dragAreaM2: 0.32 * 2.2,
  airKgM3: 1.2,
};
const RADIUS_M = 0.31;
const RATIO = 1.3 * 3.9;

describe('road load, closed form', () => {
  test('rolling resistance', () => expectRelative(rollingForceN(1500, 0.012), 176.5197, 1e-10));
  test('air drag', () => expectRelative(aerodynamicForceN(1.2, 0.704, 30), 380.16, 1e-10));
  test('a slope of 2 %', () => expectRelative(gradeForceN(1500, 0.02), 294.1406777, 1e-9));
  test('wheel power of the acceleration', () => expectRelative(tractiveForceN(CAR) * 30, 174200.391, 1e-9));
  // The allowance of 5 % for turning parts: common practice, no source.
  test('with 5 % more mass that turns', () =>
    expectRelative(tractiveForceN({ ...CAR, rotatingShare: 0.05 }) * 30, 182075.391, 1e-9));
  test('cruise power at the same speed', () =>
    expectRelative(tractiveForceN({ ...CAR, accelerationMs2: 0 }) * 30, 16700.391, 1e-9));
});

describe('from wheel to crankshaft, closed form', () => {
  const way = metresPerRadian(2 * Math.PI * RADIUS_M, RATIO);
  test('engine torque behind the wheel force', () =>
    expectRelative(engineTorqueNm(tractiveForceN(CAR), way, 0.88), 403.458559, 1e-9));
  test('the engine speed that belongs to it', () => expectRelative(30 / way, (4685.316163 * Math.PI) / 30, 1e-9));
  test('engine power × efficiency is wheel power', () => {
    const powerW = engineTorqueNm(tractiveForceN(CAR), way, 0.88) * (30 / way);
    expectRelative(powerW * 0.88, 174200.391, 1e-9);
  });
  test('no ratio, no gearing', () => expect(() => metresPerRadian(1.9, 0)).toThrow(RangeError));
  test('no efficiency, no torque', () => expect(() => engineTorqueNm(1, 1, 0)).toThrow(RangeError));
});

describe('mass of the turning parts, common practice without a source', () => {
  // Wong, Theory of Ground Vehicles, has 1.04 + 0.0025 ξ² for passenger cars (from memory); the trade's round number is 5 %.
  test.each([3, 4, 5, 6])('an overall ratio of %d lies between the trade and the textbook', (ratio) => {
    const share = rotatingMassShare(1400, 2, metresPerRadian(1.93, ratio));
    expect(share).toBeGreaterThan(0.04);
    expect(share).toBeLessThan(0.04 + 0.0025 * ratio * ratio);
  });
});
