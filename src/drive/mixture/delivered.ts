import type { Build } from '../../build-sheet/build.ts';
import { largest, smallest } from '../../signal/extremes.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { median } from '../../signal/median.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import type { Drive } from '../drive.ts';
import { BRIDGED_S, computedMixture } from './computed.ts';
import type { MixturePull } from './pull.ts';

/** Measured mixture over what airflow and injected fuel come to, in the pulls. */
export interface DeliveredMixture {
  /** Median of measured over computed lambda: above 1, less fuel arrived or more air went in than was reckoned. */
  readonly ratio: number;
  readonly computed: number;
  readonly measured: number;
  /** Change of that ratio from the low to the high end of the engine speeds, %, and its interval. */
  readonly trendPercent: number;
  readonly trendLow: number;
  readonly trendHigh: number;
  readonly rpm: readonly [number, number];
  readonly samples: number;
  /** Whether the air mass rests on a meter or on a volumetric efficiency from the build sheet, not on an assumed one. */
  readonly airKnown: boolean;
  readonly notes: readonly string[];
}

export type Delivered =
  | { readonly ok: true; readonly delivered: DeliveredMixture }
  | { readonly ok: false; readonly missing: readonly string[] };

const FEWEST = 8;
/** The first of a pull still shows what was burnt before it, s. */
const SETTLES_S = 1;

/** Holds the measured mixture against pulse width × injector flow and airflow, where all are known. */
export function deliveredMixture(drive: Drive, build: Build, pulls: readonly MixturePull[]): Delivered {
  const mixture = computedMixture(
    drive,
    build,
    pulls.map(({ pull }) => pull),
  );
  if ('missing' in mixture) return { ok: false, missing: mixture.missing };
  const [ratios, speeds, measured, reckoned]: number[][] = [[], [], [], []];
  for (const { samples, pull } of pulls) {
    const { burntS, lambda, rpm } = samples;
    const there = interpolateAt(mixture.time, mixture.lambda, burntS, BRIDGED_S);
    for (let i = 0, n = there.length; i < n; i++) {
      const isSettled = burntS[i] > pull.startS + SETTLES_S && burntS[i] < pull.endS;
      if (!isSettled || samples.isCut(i) || !(there[i] > 0.3 && there[i] < 3)) continue;
      ratios.push(lambda[i] / there[i]);
      speeds.push(rpm[i]);
      measured.push(lambda[i]);
      reckoned.push(there[i]);
    }
  }
  if (ratios.length < FEWEST) return { ok: false, missing: ['more of a full-load pull'] };
  const low = smallest(speeds);
  const high = largest(speeds);
  const line = high > low ? theilSen(speeds, ratios) : { slope: 0, slopeLow: 0, slopeHigh: 0 };
  const ratio = median(ratios);
  const percent = (slope: number) => (100 * slope * (high - low)) / ratio;
  return {
    ok: true,
    delivered: {
      ratio,
      computed: median(reckoned),
      measured: median(measured),
      trendPercent: percent(line.slope),
      trendLow: percent(line.slopeLow),
      trendHigh: percent(line.slopeHigh),
      rpm: [low, high],
      samples: ratios.length,
      airKnown: mixture.airKnown,
      notes: mixture.notes,
    },
  };
}
