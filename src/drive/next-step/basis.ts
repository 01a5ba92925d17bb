import type { Build } from '../../build-sheet/build.ts';
import { compressorOutletC } from '../../engine/compressor-outlet.ts';
import { pressureRatio } from '../../engine/pressure-ratio.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { median } from '../../signal/median.ts';
import { quantile } from '../../signal/quantile.ts';
import { lineHalfKpa } from '../boost/line.ts';
import { liveBoost } from '../boost/live-boost.ts';
import type { BoostPull } from '../boost/settled-boost.ts';
import { type ChargePull, chargePulls } from '../charge/pull.ts';
import { chargeSource } from '../charge/source.ts';
import type { Drive } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';

/** What every projection to another boost stands on. */
export interface StepBasis {
  readonly pulls: readonly BoostPull[];
  /** Settled gauge boost of the log, and one standard uncertainty, kPa. */
  readonly settledKpa: number;
  readonly sigmaKpa: number;
  readonly barometricKpa: number;
  /** Charge temperature in the pulls, where logged. */
  readonly charges: readonly ChargePull[];
  readonly chargeId: string | undefined;
  /** Charge temperature that belongs to the end of a pull now, °C, and how much of it boost has put there, K. */
  readonly chargeC: number;
  readonly riseK: number;
  readonly notes: readonly string[];
}

/** Where temperature is not logged: outside air, compressor and cooler of a usual car. Common practice, no source. */
const USUAL = { outsideC: 20, compressor: 0.7, coolerPasses: 0.3 } as const;
/** How far the rise with boost may be off, as a share of its change: logged, and assumed. Common practice, no source. */
const HEAT_SIGMA = { logged: 0.3, assumed: 0.5 } as const;
/** The level at settling is not quite the level that a controller was set to, where the line slopes: this share of the way down. */
const SLOPE_SHARE = 0.35;
/** Volumetric efficiency changes a little with boost: standard uncertainty for each unit of relative pressure change. Common practice, no source. */
const BREATHING_SIGMA = 0.05;

/** Less than this is no boost to step up from, kPa. */
const LEAST_BOOST_KPA = 10;

const KELVIN = 273.15;

/** Heat of compression at a boost, relative: T2/T1 − 1 of an ideal compressor. */
function heat(boostKpa: number, barometricKpa: number): number {
  return (
    (compressorOutletC(USUAL.outsideC, pressureRatio(Math.max(0, boostKpa), barometricKpa), 1) + KELVIN) /
      (USUAL.outsideC + KELVIN) -
    1
  );
}

/** Ratio of the heat of compression at two boosts. */
export function heatRatio(basis: StepBasis, boostKpa: number): number {
  const now = heat(basis.settledKpa, basis.barometricKpa);
  return now > 0 ? heat(boostKpa, basis.barometricKpa) / now : 1;
}

function assumedRiseK(settledKpa: number, barometricKpa: number): number {
  const ratio = pressureRatio(Math.max(0, settledKpa), barometricKpa);
  return (compressorOutletC(USUAL.outsideC, ratio, USUAL.compressor) - USUAL.outsideC) * USUAL.coolerPasses;
}

function chargesOf(drive: Drive): {
  charges: readonly ChargePull[];
  id: string | undefined;
  passedOver: readonly string[];
} {
  const { clean, notes } = chargeSource(drive);
  if (!clean) return { charges: [], id: undefined, passedOver: notes };
  return { charges: chargePulls(drive, clean), id: clean.id, passedOver: notes };
}

/** Settled level of the log with what scatters it: the pulls among themselves, each line, and the slope of the line. */
function levelOf(pulls: readonly BoostPull[]): { settledKpa: number; sigmaKpa: number } {
  const levels = pulls.map((p) => p.settled?.levelKpa ?? 0);
  const settledKpa = median(levels);
  const spread = levels.length > 1 ? (Math.max(...levels) - Math.min(...levels)) / (levels.length > 2 ? 2 : 1.13) : 0;
  const line = median(pulls.map((p) => (p.settled ? lineHalfKpa(p.settled.line, p.settled.settleRpm) / 1.96 : 0)));
  const slope = median(
    pulls.map(({ settled, pull }) =>
      settled ? Math.abs(settled.line.slopeKpaPerRpm) * SLOPE_SHARE * (settled.settleRpm - pull.rpm[0]) : 0,
    ),
  );
  return { settledKpa, sigmaKpa: Math.hypot(spread / Math.sqrt(levels.length), line, slope) };
}

/** Settled boost and charge of a log to project from; nothing where boost settled in no pull, or there is none. */
export const stepBasis = oncePer((drive: Drive): StepBasis | undefined => {
  const pulls = liveBoost(drive).filter((p) => p.settled && !p.unsettled);
  if (pulls.length === 0) return undefined;
  const level = levelOf(pulls);
  if (level.settledKpa < LEAST_BOOST_KPA) return undefined;
  const barometricKpa = drive.recording.barometric.kpa;
  const { charges, id, passedOver } = chargesOf(drive);
  const usualRiseK = assumedRiseK(level.settledKpa, barometricKpa);
  const logged = charges.length > 0;
  return {
    pulls,
    ...level,
    barometricKpa,
    charges,
    chargeId: id,
    chargeC: logged ? median(charges.map((c) => c.peakC)) : USUAL.outsideC + usualRiseK + 10,
    riseK: logged
      ? quantile(
          charges.map((c) => c.riseK),
          0.5,
        )
      : usualRiseK,
    notes: [
      logged
        ? `Charge temperature rose by ${formatQuantity(median(charges.map((c) => c.riseK)), 'K')} in the pulls (${id}); that rise is taken to grow with the heat of compression.`
        : `No charge temperature is ${passedOver.length > 0 ? 'known' : 'logged'}: a rise of ${formatQuantity(usualRiseK, 'K')} with the boost of the log is assumed (common practice, no source).`,
      ...passedOver,
    ],
  };
});

/** Charge temperature at the end of a pull at another settled boost, K above now, and one standard uncertainty. */
export function chargeRiseK(basis: StepBasis, boostKpa: number): { addK: number; sigmaK: number } {
  const addK = basis.riseK * (heatRatio(basis, boostKpa) - 1);
  const share = basis.charges.length > 0 ? HEAT_SIGMA.logged : HEAT_SIGMA.assumed;
  return { addK, sigmaK: share * Math.abs(addK) };
}

/** Manifold pressure about a time, kPa absolute: the median over half a second, or the nearest sample; nothing where not logged. */
export function manifoldNear(drive: Drive, atS: number): number | undefined {
  const channel = drive.recording.channels.get('manifold_pressure');
  if (!channel) return undefined;
  const from = indexAtOrAfter(channel.time, atS - 0.5);
  const to = indexAtOrAfter(channel.time, atS + 1e-6);
  if (to - from >= 3) return median(channel.values.subarray(from, to));
  const near = interpolateAt(channel.time, channel.values, Float64Array.of(atS), 3)[0];
  return Number.isFinite(near) ? near : undefined;
}

/** Air mass at another settled boost over that of now, at a place where the manifold holds `manifoldKpa`; with one standard uncertainty. */
export function airRatio(basis: StepBasis, manifoldKpa: number, boostKpa: number): { ratio: number; sigma: number } {
  const addKpa = boostKpa - basis.settledKpa;
  const { addK, sigmaK } = chargeRiseK(basis, boostKpa);
  const pressure = (manifoldKpa + addKpa) / manifoldKpa;
  const kelvin = basis.chargeC + KELVIN;
  const ratio = pressure * (kelvin / (kelvin + addK));
  const sigma = Math.hypot(
    basis.sigmaKpa / manifoldKpa,
    (pressure * sigmaK) / (kelvin + addK),
    BREATHING_SIGMA * Math.abs(pressure - 1),
  );
  return { ratio, sigma };
}

/** The settled boost asked for, or a step of a tenth of a bar up to a round figure. */
export function stepBoostKpa(build: Build, settledKpa: number): { boostKpa: number; from: 'build sheet' | 'proposed' } {
  if (build.nextStepBoostKpa !== undefined) return { boostKpa: build.nextStepBoostKpa, from: 'build sheet' };
  return { boostKpa: 5 * Math.round((settledKpa + 10) / 5), from: 'proposed' };
}
