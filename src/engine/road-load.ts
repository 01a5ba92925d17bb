/** Standard gravity, m/s². Source: NIST SP 811, exact. */
const GRAVITY = 9.80665;

/**
 * Rolling resistance of the whole car: f × m × g.
 * @param coefficient of rolling resistance, about 0.010 to 0.015 for road tyres
 * @returns N
 * @example rollingForceN(1500, 0.012) // => 176.52
 */
export function rollingForceN(massKg: number, coefficient: number): number {
  return coefficient * massKg * GRAVITY;
}

/**
 * Air drag: ½ ρ × (cd × A) × v².
 * @param airKgM3 density of the air
 * @param dragAreaM2 drag coefficient × frontal area
 * @returns N
 * @example aerodynamicForceN(1.2, 0.704, 30) // => 380.16
 */
export function aerodynamicForceN(airKgM3: number, dragAreaM2: number, speedMs: number): number {
  return 0.5 * airKgM3 * dragAreaM2 * speedMs * speedMs;
}

/**
 * Force that a slope takes: m g sin(arctan slope).
 * @param slope rise over run, 0.02 for 2 %
 * @returns N, positive uphill
 * @example gradeForceN(1500, 0.02) // => 294.14
 */
export function gradeForceN(massKg: number, slope: number): number {
  return massKg * GRAVITY * Math.sin(Math.atan(slope));
}

/** A car that accelerates on a road. */
export interface RoadLoad {
  readonly massKg: number;
  /** Mass that the turning parts add, as a share of the mass (0.05 is 5 %). */
  readonly rotatingShare: number;
  readonly accelerationMs2: number;
  readonly speedMs: number;
  readonly rollingCoefficient: number;
  readonly dragAreaM2: number;
  readonly airKgM3: number;
}

/**
 * Force at the driven wheels that an acceleration on the flat needs: m (1 + rotating share) a + rolling resistance + air drag.
 * @returns N
 * @example tractiveForceN({ massKg: 1500, rotatingShare: 0.05, accelerationMs2: 3.5, speedMs: 30, rollingCoefficient: 0.012, dragAreaM2: 0.704, airKgM3: 1.2 }) // => 6069.18
 */
export function tractiveForceN(car: RoadLoad): number {
  return (
    car.massKg * (1 + car.rotatingShare) * car.accelerationMs2 +
    rollingForceN(car.massKg, car.rollingCoefficient) +
    aerodynamicForceN(car.airKgM3, car.dragAreaM2, car.speedMs)
  );
}
