/** Inertia of crankshaft, flywheel and clutch, kg m² for each litre of displacement. Common practice, no source. */
const ENGINE_KG_M2_PER_L = 0.07;

/** Wheels, brakes and shafts as a share of the car's mass. Common practice, no source. */
const WHEELS_SHARE = 0.035;

/**
 * Mass that the turning parts add to a car in a gear, as a share of its mass: wheels, and the engine's inertia / (metres per
 * radian)². An allowance: it may be off by a third.
 * @param wayM way of the car for one radian of the engine
 * @returns share, 0.05 for 5 %
 * @throws RangeError unless mass and way are above 0
 * @example rotatingMassShare(1500, 2, 0.061) // => 0.060
 */
export function rotatingMassShare(massKg: number, displacementL: number, wayM: number): number {
  if (!(massKg > 0 && wayM > 0)) throw new RangeError(`no rotating mass for ${massKg} kg at ${wayM} m/rad`);
  return WHEELS_SHARE + (ENGINE_KG_M2_PER_L * displacementL) / (wayM * wayM) / massKg;
}
