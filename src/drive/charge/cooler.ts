import { compressorOutletC } from '../../engine/compressor-outlet.ts';
import { intercoolerEffectiveness } from '../../engine/intercooler-effectiveness.ts';
import { smallest } from '../../signal/extremes.ts';
import { median } from '../../signal/median.ts';
import { pullBoost } from '../boost/gauge-boost.ts';
import { type Drive, type Pull, REGIME_CODE } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { regimesAt } from '../regime-at.ts';
import type { CleanTemperature } from './clean.ts';
import type { ChargePull } from './pull.ts';

/** Isentropic efficiency of a small compressor at work, and how far it may lie off. Common practice, no source. */
export const EFFICIENCY = { usual: 0.7, low: 0.62, high: 0.77 } as const;

export interface Ambient {
  readonly celsius: number;
  readonly from: 'key-on intake temperature' | 'lowest intake temperature' | 'lowest charge temperature';
}

/** Readings before the engine ran, or while it stood. */
function engineOff(drive: Drive, { time, values }: CleanTemperature): readonly number[] | Float64Array {
  const code = REGIME_CODE['engine-off'];
  if (!drive.regime.includes(code)) return [];
  const regimes = regimesAt(drive, time);
  return values.filter((_, i) => regimes[i] === code);
}

/** Air outside: intake temperature before the engine ran, else the lowest seen; a car in traffic reads a little high. */
export function ambientOf(drive: Drive, intake: CleanTemperature | undefined, charge: CleanTemperature): Ambient {
  const source = intake ?? charge;
  const off = engineOff(drive, source);
  const lowest = smallest(source.values);
  if (intake && off.length > 0) {
    const atKeyOn = median(off);
    // A hot engine bay soaks the sensor: what was seen later while driving is then the better guess.
    if (atKeyOn <= lowest + 3) return { celsius: atKeyOn, from: 'key-on intake temperature' };
  }
  return { celsius: lowest, from: intake ? 'lowest intake temperature' : 'lowest charge temperature' };
}

/** What the charge cooler did at the end of one pull. */
export interface CoolerPull {
  readonly pull: Pull;
  readonly pressureRatio: number;
  readonly boostKpa: number;
  readonly inletC: number;
  /** Reckoned behind the compressor at `EFFICIENCY`, °C. */
  readonly outletC: number;
  readonly effectiveness: number;
  /** For a compressor that works worse or better than usual. */
  readonly low: number;
  readonly high: number;
}

const LEAST_BOOST_KPA = 25;
const LAST_S = 1;

/** Effectiveness of the cooler at the end of a pull, the compressor's outlet reckoned from pressure ratio and efficiency. */
export function coolerPull(
  drive: Drive,
  charge: ChargePull,
  ambientC: number,
  intake: CleanTemperature | undefined,
): CoolerPull | undefined {
  const { pull } = charge;
  const boost = pullBoost(drive, pull);
  if (!boost || boost.time.length === 0) return undefined;
  const late = boost.values.subarray(Math.min(boost.values.length - 1, indexAtOrAfter(boost.time, pull.endS - LAST_S)));
  const boostKpa = median(late);
  if (!(boostKpa >= LEAST_BOOST_KPA)) return undefined;
  const barometric = drive.recording.barometric.kpa;
  const pressureRatio = (barometric + boostKpa) / barometric;
  const at = intake ? Math.min(intake.time.length - 1, indexAtOrAfter(intake.time, pull.endS)) : -1;
  const inletC = intake && at >= 0 ? intake.values[at] : ambientC;
  const by = (efficiency: number) => {
    const outletC = compressorOutletC(inletC, pressureRatio, efficiency);
    return { outletC, effectiveness: intercoolerEffectiveness(outletC, charge.peakC, Math.min(ambientC, outletC - 1)) };
  };
  const usual = by(EFFICIENCY.usual);
  return {
    pull,
    pressureRatio,
    boostKpa,
    inletC,
    ...usual,
    low: by(EFFICIENCY.high).effectiveness,
    high: by(EFFICIENCY.low).effectiveness,
  };
}
