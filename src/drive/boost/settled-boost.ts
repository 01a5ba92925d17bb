import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import type { Drive, Pull } from '../drive.ts';
import { saturationIn } from '../health/end-in-pull.ts';
import { type BoostBin, boostBins } from './bins.ts';
import { type Excursions, findExcursions } from './excursions.ts';
import { afterFade, findTransient } from './first-transient.ts';
import { lineAt } from './line.ts';
import { type FirstRise, measureRise } from './rise.ts';
import { plainLine, ringingSettling, type SettledLine, settledLine } from './settled-line.ts';
import { findSettling, levelNearEnd } from './settling.ts';
import type { Swing } from './swing.ts';
import { type TargetMoves, targetMoves } from './target-moves.ts';
import { type BoostTrace, type Glitch, pullTrace } from './trace.ts';
import type { DyingTransient } from './transient.ts';
import { isClimbing, lateClimb, swingOf } from './unsettled.ts';

/** Climbing to the end, swinging to the end, or ended before it could settle. */
export type Unsettled = 'climbing' | 'swinging' | 'cut-short';

/** Everything the boost questions need of one pull. */
export interface BoostPull {
  readonly pull: Pull;
  readonly trace: BoostTrace;
  readonly glitches: readonly Glitch[];
  /** Manifold pressure, kPa absolute, at which the channel was at its end, if it was. */
  readonly toppedOutKpa: number | undefined;
  /** Highest believable sample in the pull. */
  readonly peak: { readonly boostKpa: number; readonly timeS: number; readonly rpm: number };
  /** Boost over the last few tenths, kPa gauge. */
  readonly endBoostKpa: number;
  readonly settled: SettledLine | undefined;
  readonly unsettled: Unsettled | undefined;
  /** Gain over the upper half of the pull's speed range, kPa: what a boost that never settled still climbed. */
  readonly lateClimbKpa: number;
  readonly rise: FirstRise | undefined;
  readonly swing: Swing | undefined;
  /** How the first rise rang down, where it did. */
  readonly ringing: { readonly periodS: number; readonly dampingRatio: number } | undefined;
  readonly excursions: Excursions | undefined;
  readonly target: TargetMoves | undefined;
}

/** Swings of this size from top to bottom that go on to the end are no settled boost, kPa and share of the level. */
const SWINGING_KPA = 10;
const SWINGING_SHARE = 0.1;

function highest(trace: BoostTrace) {
  let top = Math.min(trace.first, trace.time.length - 1);
  for (let i = top, n = trace.time.length; i < n; i++) if (trace.boost[i] > trace.boost[top]) top = i;
  return { boostKpa: trace.boost[top], timeS: trace.time[top], rpm: trace.rpm[top] };
}

function measurePull(drive: Drive, pull: Pull): BoostPull | undefined {
  const cut = pullTrace(drive, pull);
  if (!cut || cut.trace.time.length - cut.trace.first < 4) return undefined;
  const { trace, glitches } = cut;
  const bins = boostBins(trace, 0);
  const first = Math.max(
    0,
    bins.findIndex((bin) => bin.timeS >= pull.startS - 1e-6),
  );
  const level = levelNearEnd(bins.slice(first));
  const cameUp = Math.max(
    first,
    bins.findIndex((bin, i) => i >= first && bin.boostKpa >= 0.9 * level),
  );
  const found = findSettling(bins, first, trace.noiseKpa);
  const settleBin = found ? (found.first ?? found.last).from : cameUp;
  const late = bins.length - settleBin < 0.3 * (bins.length - cameUp);
  const swing = swingOf(bins, late ? cameUp : settleBin, trace.noiseKpa);
  const swinging = swing?.lasting && swing.lastSwingKpa >= Math.max(SWINGING_KPA, SWINGING_SHARE * level);
  const climbing = !found && !swinging && isClimbing(bins, first);
  const steady = !swinging && !climbing;
  const plain = found && plainLine(trace, bins, found.last.from);
  const transient = steady ? findTransient(trace, bins, cameUp, found, plain) : undefined;
  let settling = found && plain && !transient?.left ? afterFade(trace, bins, found, plain) : found;
  if (!settling && steady && (swing || transient?.left)) {
    settling = ringingSettling(bins, cameUp, Math.max(1, 0.02 * level));
  }
  const settled = settling && settledLine(trace, bins, settling, transient?.left);
  const excursions = settled && !swinging ? excursionsOf(trace, bins, settled) : undefined;
  const rise = settled && measureRise(trace, settled, excursions?.spikes[0]?.startS);
  return {
    pull,
    trace,
    glitches,
    toppedOutKpa: saturationIn(drive, 'manifold_pressure', pull)?.level,
    peak: highest(trace),
    endBoostKpa: median(bins.slice(-3).map((bin) => bin.boostKpa)),
    settled,
    unsettled: swinging ? 'swinging' : climbing ? 'climbing' : settled ? undefined : 'cut-short',
    lateClimbKpa: lateClimb(bins, first),
    rise,
    swing,
    ringing: ringingOf(transient?.seen),
    excursions,
    target: settled && targetMoves(drive, trace, settled, rise),
  };
}

function ringingOf(seen: DyingTransient | undefined): BoostPull['ringing'] {
  if (seen?.periodS === undefined || seen.dampingRatio === undefined) return undefined;
  return { periodS: seen.periodS, dampingRatio: seen.dampingRatio };
}

function excursionsOf(trace: BoostTrace, bins: readonly BoostBin[], settled: SettledLine): Excursions {
  const bendRpm = settled.bent ? (settled.line.endRpm + settled.last.startRpm) / 2 : Number.NEGATIVE_INFINITY;
  const lineKpa = (rpm: number) => lineAt(rpm < bendRpm ? settled.line : settled.last, rpm);
  let from = trace.first;
  while (from < trace.time.length - 1 && trace.time[from] < settled.straightFromS) from++;
  const settledBins = bins.filter((bin) => bin.timeS >= settled.straightFromS - 1e-6);
  return findExcursions(trace, trace.rpm.map(lineKpa), from, settledBins, (bin) => lineKpa(bin.rpm));
}

/** Boost of every pull that can be judged for boost, measured once per drive. */
export const settledBoost = oncePer((drive: Drive): readonly BoostPull[] => {
  const measured: BoostPull[] = [];
  for (const pull of drive.pulls) {
    const boost = pull.fitness.boost.ok ? measurePull(drive, pull) : undefined;
    if (boost) measured.push(boost);
  }
  return measured;
});
