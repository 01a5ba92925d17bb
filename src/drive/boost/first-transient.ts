import { median } from '../../signal/median.ts';
import type { BoostBin } from './bins.ts';
import { lineAt, type StraightLine } from './line.ts';
import { plainLine } from './settled-line.ts';
import type { Settling } from './settling.ts';
import type { BoostTrace } from './trace.ts';
import { type DyingTransient, fitDyingTransient } from './transient.ts';

/** A line that rises by less than this has no end of spool on it worth taking off, kPa. */
const LEAST_RISE_KPA = 3;

/** A climb whose later half gains less than this share of it is the end of the spool, not a settled boost creeping up. */
const FADED_SHARE = 0.3;

/** What a line gains from a bin to the last one, kPa. */
const gainFrom = (bins: readonly BoostBin[], from: number, line: StraightLine) =>
  line.slopeKpaPerRpm * (bins[bins.length - 1].rpm - bins[from].rpm);

/** Moves settling later where boost was still fading into its level. `plain` is the plain line of the settling. */
export function afterFade(
  trace: BoostTrace,
  bins: readonly BoostBin[],
  settling: Settling,
  plain: StraightLine,
): Settling {
  const { last, first } = settling;
  const middle = last.from + ((bins.length - last.from) >> 1);
  if (first || bins.length - middle < 4) return settling;
  const whole = gainFrom(bins, last.from, plain);
  if (whole < LEAST_RISE_KPA) return settling;
  const later = gainFrom(bins, middle, plainLine(trace, bins, middle));
  if (later > FADED_SHARE * whole) return settling;
  return { ...settling, last: { ...last, from: middle } };
}

/** Mean square of what bins leave over about a line, kPa², with an optional transient on it. */
function leftOver(
  bins: readonly BoostBin[],
  line: StraightLine,
  transientAt: (timeS: number) => number = () => 0,
): number {
  return bins.reduce((sum, bin) => sum + (bin.boostKpa - lineAt(line, bin.rpm) - transientAt(bin.timeS)) ** 2, 0);
}

/** A transient has to explain this much of what a straight line leaves over, or the plain line stands. */
const EXPLAINS = 0.7;
/** The same where a transient many times the band was seen before. */
const EXPLAINS_CLEAR = 0.97;

/** The top of the first rise before the straight part, or where boost came up if it never went over. */
function transientStart(bins: readonly BoostBin[], cameUp: number, settling: Settling | undefined): number {
  let top = cameUp;
  for (let i = cameUp; i <= (settling?.last.from ?? bins.length - 1); i++) {
    if (bins[i].boostKpa > bins[top].boostKpa) top = i;
  }
  const over = settling ? bins[top].boostKpa - bins[settling.last.from].boostKpa : 0;
  return over > 2 * (settling?.toleranceKpa ?? 0) ? top : cameUp;
}

/** The transient from the top on; where a sharp top does not fit the picture, from a bin or two after it. */
function bestTransient(
  bins: readonly BoostBin[],
  start: number,
  wentOver: boolean,
  spreadKpa: number,
): DyingTransient | undefined {
  let best: DyingTransient | undefined;
  for (let from = start; from <= start + (wentOver ? 2 : 0); from++) {
    const fit = fitDyingTransient(bins.slice(from));
    if (fit && !(best && best.spreadKpa <= fit.spreadKpa)) best = fit;
    if (best && best.spreadKpa < spreadKpa) break;
  }
  return best;
}

/** The transient of the first rise: `seen` where boost went over or rang, `left` where it is still on the settled line. */
interface Transient {
  readonly seen: DyingTransient | undefined;
  readonly left: DyingTransient | undefined;
}

/**
 * The transient left on the settled line, where it is well described, is more than noise and small enough that boost had
 * all but settled by the end of the pull. `plain` is the plain line of the settling, where boost settled.
 */
export function findTransient(
  trace: BoostTrace,
  bins: readonly BoostBin[],
  cameUp: number,
  settling: Settling | undefined,
  plain: StraightLine | undefined,
): Transient {
  const start = transientStart(bins, cameUp, settling);
  const wentOver = start !== cameUp;
  if (settling && plain && !wentOver && gainFrom(bins, settling.last.from, plain) < LEAST_RISE_KPA) return NO_TRANSIENT;
  const noiseKpa = (1.2533 * trace.noiseKpa) / Math.sqrt(median(bins.map((bin) => bin.count)));
  const found = bestTransient(bins, start, wentOver, 1.15 * noiseKpa);
  if (!found || found.spreadKpa > 1.5 * noiseKpa + 0.3) return NO_TRANSIENT;
  const seen = wentOver || !settling ? found : undefined;
  return { seen, left: isLeft(bins, found, settling, plain, start, wentOver) ? found : undefined };
}

const NO_TRANSIENT: Transient = { seen: undefined, left: undefined };

/** Whether a well described transient is still on the straight part, and has to come off its line. */
function isLeft(
  bins: readonly BoostBin[],
  found: DyingTransient,
  settling: Settling | undefined,
  plain: StraightLine | undefined,
  start: number,
  wentOver: boolean,
): boolean {
  const lastBins = bins.slice(-3);
  const endKpa = median(lastBins.map((bin) => bin.boostKpa));
  const missingKpa = Math.abs(lineAt(found.line, lastBins[lastBins.length - 1].rpm) - endKpa);
  if (settling?.first || missingKpa > Math.max(3, 0.03 * endKpa)) return false;
  if (!settling || !plain) return found.periodS !== undefined;
  const settledBins = bins.slice(settling.last.from);
  const size = found.sizeAt(settledBins[0].timeS);
  if (size < 0.4 * settling.toleranceKpa || size > (wentOver ? 6 : 4) * settling.toleranceKpa) return false;
  if (!wentOver && found.line.slopeKpaPerRpm > plain.slopeKpaPerRpm) return false;
  const clear = wentOver && found.sizeAt(bins[start].timeS) > 4 * settling.toleranceKpa;
  const share = clear ? EXPLAINS_CLEAR : EXPLAINS;
  return leftOver(settledBins, found.line, found.transientAt) < share * leftOver(settledBins, plain);
}
