import type { Build } from '../../build-sheet/build.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import { quantile } from '../../signal/quantile.ts';
import { type RobustLine, theilSen } from '../../signal/theil-sen.ts';
import { workspace } from '../../signal/working-copy.ts';
import { REGIME_CODE } from '../drive.ts';
import { amongRegimes, samplesIn } from '../regime-at.ts';
import type { Rail } from './series.ts';

export type RegulatorKind = 'manifold-referenced' | 'fixed' | 'rising-rate';

/** How the rail follows the manifold off boost, where little fuel flows and no pump is short of it. */
export interface Regulator {
  /** What the data show; undefined where they cannot tell. */
  readonly seen: RegulatorKind | undefined;
  /** kPa of rail per kPa of manifold, and its interval. */
  readonly slope: number | undefined;
  readonly slopeLow: number | undefined;
  readonly slopeHigh: number | undefined;
  /** What rail pressure is reckoned by: the sheet where it says, else the data, else manifold-referenced. */
  readonly taken: RegulatorKind;
  /** The sheet says one thing, the data another. */
  readonly contradicts: boolean;
  readonly note: string;
}

/** Marks between the kinds, kPa per kPa. Common practice, no source. */
const FIXED_BELOW = 0.35;
const RISING_ABOVE = 1.35;
const REFERENCED_FROM = 0.65;
const LEAST_RANGE_KPA = 20;
const FEWEST = 12;

/** By the code of the regime, whether little fuel flows. */
const IS_QUIET = amongRegimes('idle', 'cruise', 'fuel-cut', 'transient');

const roomForManifold = workspace();
const roomForRail = workspace();

const KIND_WORDS: Record<RegulatorKind, string> = {
  'manifold-referenced': 'follows the manifold one to one (manifold-referenced)',
  fixed: 'stays put against the manifold (fixed)',
  'rising-rate': 'rises faster than the manifold (rising rate)',
};

function kindOf(slope: number): RegulatorKind | undefined {
  if (Math.abs(slope) < FIXED_BELOW) return 'fixed';
  if (slope > RISING_ABOVE) return 'rising-rate';
  return slope >= REFERENCED_FROM ? 'manifold-referenced' : undefined;
}

/** Rail pressure over manifold pressure where little fuel flows; nothing where too little of it was driven. */
const offBoostLine = oncePer((rail: Rail): RobustLine | undefined => {
  if (!rail.hasManifold) return undefined;
  const { regime, manifoldKpa, railKpa } = rail;
  const x = roomForManifold(regime.length);
  const y = roomForRail(regime.length);
  const belowKpa = 0.98 * rail.barometricKpa;
  let count = 0;
  for (let i = 0, n = regime.length; i < n; i++) {
    if (!IS_QUIET[regime[i]] || !(manifoldKpa[i] < belowKpa)) continue;
    x[count] = manifoldKpa[i];
    y[count++] = railKpa[i];
  }
  if (count < FEWEST) return undefined;
  const manifold = x.subarray(0, count);
  const range = quantile(manifold, 0.95) - quantile(manifold, 0.05);
  return range >= LEAST_RANGE_KPA ? theilSen(manifold, y.subarray(0, count)) : undefined;
});

/** Tells the regulator from idle, cruise and light load, and holds it against the build sheet. */
export function regulatorOf(build: Build, rail: Rail): Regulator {
  const sheet = build.injectors.regulator;
  const line = offBoostLine(rail);
  const seen = line && kindOf(line.slope);
  const taken =
    sheet === 'fixed' ? 'fixed' : ((seen === 'rising-rate' ? 'rising-rate' : sheet) ?? seen ?? 'manifold-referenced');
  const contradicts =
    sheet !== undefined &&
    seen !== undefined &&
    seen !== sheet &&
    !(sheet === 'manifold-referenced' && seen === 'rising-rate');
  const slopeWords = line ? `${line.slope.toFixed(2)} kPa for each kPa of manifold pressure, off boost` : '';
  const says = sheet === undefined ? 'the build sheet does not say' : `the build sheet says ${sheet}`;
  return {
    seen,
    slope: line?.slope,
    slopeLow: line?.slopeLow,
    slopeHigh: line?.slopeHigh,
    taken,
    contradicts,
    note: seen
      ? `Rail pressure ${KIND_WORDS[seen]}: ${slopeWords}; ${says}.`
      : line
        ? `Rail pressure moves by ${slopeWords}, which is neither fixed nor one to one; ${says}, and it is reckoned as ${taken}.`
        : `Off boost the log holds too little change of manifold pressure to tell the regulator; ${says}, and it is reckoned as ${taken}.`,
  };
}

/** Pressure across the injector at rest: steady idle, else cruise; or as set by the build sheet. */
export interface RailReference {
  readonly differentialKpa: number;
  readonly railKpa: number;
  readonly manifoldKpa: number;
  readonly from: 'idle' | 'cruise' | 'build sheet';
  readonly samples: number;
}

const roomForReadings = workspace();

/** Median of the readings in a regime; NaN where there is none. */
function levelIn(regime: Uint8Array, code: number, values: Float64Array): number {
  const readings = roomForReadings(values.length);
  let count = 0;
  for (let i = 0, n = values.length; i < n; i++) {
    if (regime[i] === code && Number.isFinite(values[i])) readings[count++] = values[i];
  }
  return count > 0 ? median(readings.subarray(0, count)) : Number.NaN;
}

/** The idle level of rail and differential; nothing where the log holds neither idle nor cruise. */
export const railReference = oncePer((rail: Rail): RailReference | undefined => {
  for (const from of ['idle', 'cruise'] as const) {
    const code = REGIME_CODE[from];
    const samples = samplesIn(rail.regime, code);
    if (samples < 5) continue;
    return {
      railKpa: levelIn(rail.regime, code, rail.railKpa),
      manifoldKpa: rail.hasManifold ? levelIn(rail.regime, code, rail.manifoldKpa) : Number.NaN,
      differentialKpa: rail.hasManifold ? levelIn(rail.regime, code, rail.differentialKpa) : Number.NaN,
      from,
      samples,
    };
  }
  return undefined;
});

/**
 * The pressure that the build sheet sets, for a log that holds neither idle nor cruise: across the injector where the
 * regulator follows the manifold, at the rail where it is fixed. Nothing where the sheet has none, or where neither sheet
 * nor log tells the regulator.
 */
export function sheetReference(build: Build, rail: Rail, regulator: Regulator): RailReference | undefined {
  const setKpa = build.injectors.fuelPressureKpa;
  const isKnown = build.injectors.regulator !== undefined || regulator.seen !== undefined;
  if (setKpa === undefined || rail.isDirect || !isKnown) return undefined;
  return {
    differentialKpa: setKpa,
    railKpa: setKpa,
    manifoldKpa: rail.barometricKpa,
    from: 'build sheet',
    samples: 0,
  };
}
