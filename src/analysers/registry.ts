import type { Analyser } from './analyser.ts';
import { boostCreep } from './boost-creep.ts';
import { boostOvershoot } from './boost-overshoot.ts';
import { boostSpike } from './boost-spike.ts';
import { boostTarget } from './boost-target.ts';
import { chargeTemperature } from './charge-temperature.ts';
import { fuelPressure } from './fuel-pressure.ts';
import { fuelTrim } from './fuel-trim.ts';
import { injectorDuty } from './injector-duty.ts';
import { mixture } from './mixture.ts';
import { sensorHealth } from './sensor-health.ts';
import { temperatures } from './temperatures.ts';
import { timingPull } from './timing-pull.ts';
import { torque } from './torque.ts';
import { troubleCodes } from './trouble-codes.ts';

/** Every analyser, in report order. To add one, write its file and name it here. */
export const ANALYSERS: readonly Analyser[] = [
  fuelTrim,
  injectorDuty,
  boostOvershoot,
  boostSpike,
  boostCreep,
  timingPull,
  mixture,
  fuelPressure,
  chargeTemperature,
  boostTarget,
  torque,
  sensorHealth,
  troubleCodes,
  temperatures,
];

export const ANALYSER_IDS: readonly string[] = ANALYSERS.map((analyser) => analyser.meta.id);
