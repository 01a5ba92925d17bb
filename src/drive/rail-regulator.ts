import type { Build } from '../build-sheet/build.ts';
import { median } from '../signal/median.ts';
import { theilSen } from '../signal/theil-sen.ts';
import type { Drive } from './drive.ts';
import type { Rail } from './rail-series.ts';
import { regimeAt } from './regime-at.ts';

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

/** Tells the regulator from idle, cruise and light load, and holds it against the build sheet. */
export function regulatorOf(drive: Drive, build: Build, rail: Rail): Regulator {
  const sheet = build.injectors.regulator;
  const barometric = drive.recording.barometric.kpa;
  const [x, y]: number[][] = [[], []];
  for (let i = 0; rail.hasManifold && i < rail.time.length; i++) {
    const regime = regimeAt(drive, rail.time[i]);
    const isQuiet = regime === 'idle' || regime === 'cruise' || regime === 'fuel-cut' || regime === 'transient';
    if (!isQuiet || !(rail.manifoldKpa[i] < 0.98 * barometric)) continue;
    x.push(rail.manifoldKpa[i]);
    y.push(rail.railKpa[i]);
  }
  const sorted = Float64Array.from(x).sort();
  const range =
    x.length > 0 ? sorted[Math.floor(0.95 * (x.length - 1))] - sorted[Math.floor(0.05 * (x.length - 1))] : 0;
  const line = x.length >= FEWEST && range >= LEAST_RANGE_KPA ? theilSen(x, y) : undefined;
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

/** Pressure across the injector at rest: steady idle, else cruise. */
export interface RailReference {
  readonly differentialKpa: number;
  readonly railKpa: number;
  readonly manifoldKpa: number;
  readonly from: 'idle' | 'cruise';
  readonly samples: number;
}

/** The idle level of rail and differential; nothing where the log holds neither idle nor cruise. */
export function railReference(drive: Drive, rail: Rail): RailReference | undefined {
  for (const from of ['idle', 'cruise'] as const) {
    const at = Array.from(rail.time.keys()).filter((i) => regimeAt(drive, rail.time[i]) === from);
    const level = (values: Float64Array) => median(at.map((i) => values[i]).filter(Number.isFinite));
    if (at.length < 5) continue;
    const railKpa = level(rail.railKpa);
    const hasManifold = rail.hasManifold && at.some((i) => Number.isFinite(rail.manifoldKpa[i]));
    return {
      railKpa,
      manifoldKpa: hasManifold ? level(rail.manifoldKpa) : Number.NaN,
      differentialKpa: hasManifold ? level(rail.differentialKpa) : Number.NaN,
      from,
      samples: at.length,
    };
  }
  return undefined;
}
