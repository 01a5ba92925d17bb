import type { Build } from '../build-sheet/build.ts';
import type { Drive } from '../drive/drive.ts';
import { valueAt } from '../drive/duty/next-step.ts';
import { computedDuty, loggedDuty } from '../drive/duty/series.ts';
import type { MixturePull } from '../drive/mixture/pull.ts';
import { cutSeries } from '../drive/pull-series.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { interpolateAt } from '../signal/interpolate.ts';
import type { Cause } from './finding.ts';
import { rpmWords } from './wording.ts';

/** Marks for evidence. Common practice, no source. */
const DROP_PERCENT = 5;
const FULL_DUTY = 92;
const EASY_DUTY = 85;
const LOW_VOLTS = 13;
const TRIM_PERCENT = 5;
const RISING_KPA_PER_S = 40;

const percent = (value: number) => formatQuantity(value, '%');

/** Pressure across the injector, kPa, where rail and manifold pressure are logged. */
function differentialAt(drive: Drive, atS: number): number | undefined {
  const rail = valueAt(drive, 'fuel_rail_pressure', atS);
  const manifold = valueAt(drive, 'manifold_pressure', atS);
  return rail === undefined || manifold === undefined ? undefined : rail + drive.recording.barometric.kpa - manifold;
}

function delivery(drive: Drive, worst: MixturePull, atS: number): Cause {
  const cause: Cause = {
    cause: 'Fuel pressure falls at high flow: pump, filter, line or regulator',
    for: [],
    against: [],
  };
  const then = differentialAt(drive, atS);
  const early = differentialAt(drive, worst.pull.startS + 0.2 * (worst.pull.endS - worst.pull.startS));
  if (then === undefined || early === undefined || early <= 0) return cause;
  const drop = 100 * (1 - then / early);
  const words = `pressure across the injector ${formatQuantity(then, 'kPa')} there, ${formatQuantity(early, 'kPa')} early in the pull`;
  (drop >= DROP_PERCENT ? cause.for : cause.against).push(words);
  return cause;
}

function injectors(drive: Drive, build: Build, atS: number): Cause {
  const cause: Cause = { cause: 'The injectors are at their end and stay open', for: [], against: [] };
  const duty = computedDuty(drive, build) ?? loggedDuty(drive);
  if (!duty) return cause;
  const series = cutSeries(duty.series, atS - 1, atS + 1);
  const value = interpolateAt(series.time, series.values, [atS], 1)[0];
  if (value >= FULL_DUTY) cause.for.push(`${percent(value)} duty there`);
  else if (value < EASY_DUTY) cause.against.push(`${percent(value)} duty there`);
  return cause;
}

function supply(drive: Drive, atS: number): Cause {
  const cause: Cause = { cause: 'Low battery voltage slows pump and injectors', for: [], against: [] };
  const volts = valueAt(drive, 'battery_voltage', atS);
  if (volts !== undefined) (volts < LOW_VOLTS ? cause.for : cause.against).push(`${formatQuantity(volts, 'V')} there`);
  return cause;
}

function airflowRead(drive: Drive, worst: MixturePull): Cause {
  const cause: Cause = { cause: 'Airflow or volumetric efficiency is reckoned too low there', for: [], against: [] };
  const trim = valueAt(drive, 'long_term_fuel_trim_1', worst.pull.startS - 0.5);
  if (trim !== undefined) {
    (trim >= TRIM_PERCENT ? cause.for : cause.against).push(
      `long term trim ${percent(trim)} just before the pull: closed loop ${trim >= TRIM_PERCENT ? 'was short of fuel too' : 'was not short of fuel'}`,
    );
  }
  const drop = delivery(drive, worst, worst.error?.highest.atS ?? worst.boosted?.highest.atS ?? worst.pull.endS);
  if (drop.against.length > 0) cause.for.push('fuel pressure holds');
  if (drop.for.length > 0) cause.against.push('fuel pressure falls, which alone leans the mixture');
  return cause;
}

function transient(drive: Drive, atS: number): Cause | undefined {
  const before = valueAt(drive, 'manifold_pressure', atS - 0.3);
  const after = valueAt(drive, 'manifold_pressure', atS + 0.3);
  if (before === undefined || after === undefined) return undefined;
  const rate = (after - before) / 0.6;
  if (rate < RISING_KPA_PER_S) return undefined;
  return {
    cause: 'Transient fuel: boost rises faster than the wall film and the airflow model follow',
    for: [`manifold pressure rises by ${formatQuantity(rate, 'kPa')} a second there`],
    against: [],
  };
}

/** Why full load may be lean at a place, with what this log says for and against each. */
export function leanCauses(drive: Drive, build: Build, worst: MixturePull, atS: number): Cause[] {
  const sensor: Cause = {
    cause: 'The sensor reads lean: exhaust leak before it, misfire, a wrong stoichiometric ratio in the mapping',
    for: [],
    against: [],
  };
  const lowest = worst.error?.lowest;
  if (lowest && Math.abs(lowest.value) < 0.02) {
    sensor.against.push(
      `elsewhere in the pull it meets the target (${formatQuantity(lowest.value, 'ratio')} at ${rpmWords(lowest.rpm)})`,
    );
  }
  const told = [
    transient(drive, atS),
    delivery(drive, worst, atS),
    injectors(drive, build, atS),
    supply(drive, atS),
    airflowRead(drive, worst),
  ].filter((cause) => cause !== undefined && cause.for.length + cause.against.length > 0) as Cause[];
  const ranked = told.sort((a, b) => b.for.length - b.against.length - (a.for.length - a.against.length));
  return [...ranked, sensor];
}

export const LEAN_NEXT = [
  'No further full-load pull until the mixture is right.',
  'Check the exhaust for leaks before the sensor, and the stoichiometric ratio in the mapping.',
  'Log fuel rail pressure, manifold pressure, pulse width and battery voltage in a short pull.',
  'Check pump supply, filter and regulator under load; then the airflow or fuel table at those engine speeds.',
] as const;
