import type { Build } from '../../build-sheet/build.ts';
import type { LimitTable } from '../../build-sheet/limit.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { largest, smallest } from '../../signal/extremes.ts';
import { quantile } from '../../signal/quantile.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import { theilSen } from '../../signal/theil-sen.ts';
import type { Drive } from '../drive.ts';
import { indexAtOrAfter } from '../pull-series.ts';
import { isRailLive, judgedRail } from '../rail/judged.ts';
import { airRatio, type StepBasis } from './basis.ts';
import { limitFrom } from './limit.ts';
import { type ProjectorAnswer, Z90 } from './type.ts';

const RAIL = { id: 'rail-pressure', title: 'Fall of fuel pressure below what it should hold' } as const;
const FEWEST = 8;
/** Boost has to stand for this long after the pull begins: rail and manifold sensors do not answer at the same time, s. */
const HEAD_S = 1;

/** Fall of rail pressure against fuel demand (engine speed × manifold pressure), a robust line over all pulls, carried to the next step's demand. */
export function railProjector(drive: Drive, build: Build, limits: LimitTable, basis: StepBasis): ProjectorAnswer {
  const judged = judgedRail(drive, build);
  if (!judged) {
    return { ok: false, ...RAIL, why: 'Fuel rail pressure is not logged.', needs: ['fuel_rail_pressure'] };
  }
  const { rail, by } = judged;
  if ('missing' in by) return { ok: false, ...RAIL, why: 'What it should hold is not known.', needs: by.missing };
  if (by.by === 'set differential' || by.by === 'set rail pressure') {
    const why = 'Neither idle nor cruise shows what it holds before much fuel flows.';
    return { ok: false, ...RAIL, why, needs: ['a log with idle or cruise'] };
  }
  const [demand, falls, manifold]: number[][] = [[], [], []];
  for (const pull of drive.pulls) {
    if (!isRailLive(drive, judged, pull)) continue;
    const { startS, endS } = pull;
    for (let i = indexAtOrAfter(rail.time, startS + HEAD_S); i < rail.time.length && rail.time[i] <= endS; i++) {
      const fall = 100 * (1 - by.actual(i) / by.expected(i));
      const flow = (rail.rpm[i] * rail.manifoldKpa[i]) / 1e6;
      if (!Number.isFinite(fall + flow)) continue;
      demand.push(flow);
      falls.push(fall);
      manifold.push(rail.manifoldKpa[i]);
    }
  }
  if (demand.length < FEWEST || smallest(demand) === largest(demand)) {
    return {
      ok: false,
      ...RAIL,
      why: 'The pulls hold too few readings of rail and manifold pressure.',
      needs: ['fuel_rail_pressure', 'manifold_pressure'],
    };
  }
  const line = theilSen(demand, falls, 0.9);
  const top = quantile(demand, 0.95);
  const manifoldKpa = quantile(manifold, 0.75);
  const middle = quantile(demand, 0.5);
  const residual = robustSpread(falls.map((fall, i) => fall - line.slope * demand[i]));
  const level = line.intercept + line.slope * middle;
  const atDemand = (flow: number) => {
    const reach = flow - middle;
    const noise = (Z90 * 1.25 * residual) / Math.sqrt(Math.max(1, demand.length / 4));
    return {
      value: level + line.slope * reach,
      low: level + line.slope * reach - Math.hypot((line.slope - line.slopeLow) * reach, noise),
      high: level + line.slope * reach + Math.hypot((line.slopeHigh - line.slope) * reach, noise),
    };
  };
  return {
    ok: true,
    projector: {
      ...RAIL,
      unit: '%',
      now: atDemand(top),
      at: (boostKpa) => atDemand(top * airRatio(basis, manifoldKpa, boostKpa).ratio),
      limit: limitFrom(limits, 'fuel-pressure.drop'),
      basis: [
        by.note,
        `The fall changes by ${formatQuantity(0.1 * top * line.slope, '%')} of pressure for a tenth more fuel (${formatQuantity(0.1 * top * line.slopeLow, '%')} to ${formatQuantity(0.1 * top * line.slopeHigh, '%')}, ${demand.length} readings). A pump at its end gives way faster than a line: watch pressure in the first pull.`,
      ],
    },
  };
}
