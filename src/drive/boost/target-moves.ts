import { median } from '../../signal/median.ts';
import { alignedChannel } from '../align.ts';
import type { Drive } from '../drive.ts';
import type { FirstRise } from './rise.ts';
import type { SettledLine } from './settled-line.ts';
import type { BoostTrace } from './trace.ts';

/** What the logged target did meanwhile, kPa: how far it rose from settling to the end, and bulged at the peak. */
export interface TargetMoves {
  readonly levelKpa: number;
  readonly riseKpa: number;
  readonly bulgeKpa: number;
}

/** Target against settled line, where a target is logged and is one the boost follows. */
export function targetMoves(
  drive: Drive,
  trace: BoostTrace,
  settled: SettledLine,
  rise: FirstRise | undefined,
): TargetMoves | undefined {
  const target = alignedChannel(drive.recording, 'manifold_pressure_target', trace.time);
  const manifold = alignedChannel(drive.recording, 'manifold_pressure', trace.time);
  if (!target || !manifold) return undefined;
  const near = (fromS: number, toS: number) => {
    const values: number[] = [];
    for (let i = trace.first, n = trace.time.length; i < n; i++) {
      const kpa = target[i] - (manifold[i] - trace.boost[i]);
      if (trace.time[i] >= fromS && trace.time[i] <= toS && Number.isFinite(kpa)) values.push(kpa);
    }
    return values.length > 0 ? median(values) : Number.NaN;
  };
  const endS = trace.time[trace.time.length - 1];
  const atSettling = near(settled.settleS - 0.3, settled.settleS + 0.3);
  const atEnd = near(endS - 0.5, endS);
  if (!(Math.abs(atSettling - settled.levelKpa) < 0.25 * settled.levelKpa) || !Number.isFinite(atEnd)) return undefined;
  const atPeak = rise ? near(rise.peakTimeS - 0.5, rise.peakTimeS + 0.2) : Number.NaN;
  const bulge = rise ? atPeak - atSettling - (rise.settledKpa - settled.levelKpa) : 0;
  return {
    levelKpa: atSettling,
    riseKpa: atEnd - atSettling,
    bulgeKpa: Number.isFinite(bulge) ? Math.max(0, bulge) : 0,
  };
}
