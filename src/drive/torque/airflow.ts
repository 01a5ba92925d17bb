import type { Build } from '../../build-sheet/build.ts';
import { brakePowerKw, brakeSpecificFuelConsumption, torqueFromPowerNm } from '../../engine/brake-torque.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { runningMedian } from '../../signal/local-level.ts';
import { median } from '../../signal/median.ts';
import type { Drive } from '../drive.ts';
import { believableSpeeds } from '../engine-speed-slips.ts';
import { channelName } from '../health/doubt.ts';
import { froze } from '../health/frozen.ts';
import { impossibleJumps, isInJump } from '../health/jumps.ts';
import { indexesWithin } from '../pull-series.ts';
import { chargeAir, ethanolAt, lambdaAt } from './charge-air.ts';
import { highestPoint, type RoutePull, TORQUE_HELD_S, type TorqueRoute } from './route.ts';

/**
 * Brake power over the heat of the fuel that finds its air, for a boosted petrol engine at full load: 244 g/kWh at lambda 1,
 * 297 g/kWh at 0.82. Handbooks and the trade have 250 to 395 g/kWh for rich full load. Common practice, no source.
 */
export const USUAL_EFFICIENCY = 0.34;
/** One standard uncertainty of that, as a share: timing, compression and friction differ by so much. Common practice, no source. */
const EFFICIENCY_SIGMA = 0.08;

const SMOOTHED_FROM_HZ = 8;
const FEWEST = 4;
/** A pull turns no slower than where it begins, noise and rounding aside. */
const BELOW_START = 0.8;

/** Torque = airflow × burnt fuel × its heat × brake efficiency / angular speed, in every usable pull. */
export function airflowTorque(drive: Drive, build: Build): TorqueRoute {
  const air = chargeAir(drive, build);
  const id = 'airflow';
  if ('missing' in air) {
    return { ok: false, id, missing: air.missing, why: 'Neither airflow nor injected fuel is known.' };
  }
  const lambda = lambdaAt(drive, build, air.time);
  const ethanol = ethanolAt(drive, build, air.time);
  const torqueAt = (i: number) =>
    torqueFromPowerNm(
      brakePowerKw({
        airflowGs: air.values[i],
        lambda: lambda.at(i),
        ethanolPercent: ethanol(i),
        efficiency: USUAL_EFFICIENCY,
      }),
      air.rpm[i],
    );
  const relativeSigma = Math.hypot(air.relativeSigma, EFFICIENCY_SIGMA);
  const pulls: RoutePull[] = [];
  const mixtures: number[] = [];
  const frozen: string[] = [];
  const [lowestRpm, highestRpm] = believableSpeeds(build.engine.redlineRpm);
  const jumps = impossibleJumps(drive, air.by);
  const channel = drive.recording.channels.get(air.by);
  const isJump = (i: number) => channel !== undefined && jumps.length > 0 && isInJump(channel, jumps, air.time[i]);
  for (const pull of drive.pulls) {
    if (!pull.usable) continue;
    if (froze(drive, [air.by], pull)) {
      frozen.push(
        `Pull ${pull.id} is not reckoned by airflow: ${channelName(air.by)} froze in it (see sensor-health).`,
      );
      continue;
    }
    const leastRpm = Math.max(lowestRpm, BELOW_START * pull.rpm[0]);
    const known = indexesWithin(air.time, pull.startS, pull.endS).filter(
      (i) =>
        air.values[i] > 0 &&
        air.rpm[i] >= leastRpm &&
        air.rpm[i] <= highestRpm &&
        !isJump(i) &&
        Number.isFinite(torqueAt(i)),
    );
    if (known.length < FEWEST) continue;
    const time = Float64Array.from(known, (i) => air.time[i]);
    const rpm = Float64Array.from(known, (i) => air.rpm[i]);
    const values = Float64Array.from(known, torqueAt);
    const level = air.rateHz >= SMOOTHED_FROM_HZ ? runningMedian(time, values, TORQUE_HELD_S) : values;
    const curve = { time, rpm, values: level };
    const peak = highestPoint(curve);
    if (!peak) continue;
    for (const i of known) if (air.time[i] > pull.startS + 1 && air.time[i] < pull.endS) mixtures.push(lambda.at(i));
    pulls.push({ pull, curve, peak, relativeSigma });
  }
  if (pulls.length === 0 && frozen.length > 0) {
    return { ok: false, id, missing: [air.by], why: frozen.join(' ') };
  }
  if (pulls.length === 0) {
    return { ok: false, id, missing: ['a full-load pull'], why: 'No usable pull holds enough samples of airflow.' };
  }
  const mixture = mixtures.length > 0 ? median(mixtures) : (build.fullLoadLambda ?? 1);
  const ethanolPercent = ethanol(0);
  const ofAll = USUAL_EFFICIENCY * Math.min(1, mixture);
  return {
    ok: true,
    id,
    pulls,
    notes: [
      ...air.notes,
      ...frozen,
      lambda.note,
      `Brake efficiency assumed: ${USUAL_EFFICIENCY} of the heat of the fuel that finds its air, which at lambda ${formatQuantity(mixture, 'ratio')} is ${formatQuantity(brakeSpecificFuelConsumption(ofAll, ethanolPercent), 'g/kWh')} (common practice, no source; a standard uncertainty of ${(100 * EFFICIENCY_SIGMA).toFixed(0)} %).`,
    ],
  };
}
