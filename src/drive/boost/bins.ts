import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import type { BoostTrace } from './trace.ts';

/** A tenth of a second or so of a pull, as medians. */
export interface BoostBin {
  readonly timeS: number;
  readonly rpm: number;
  readonly boostKpa: number;
  readonly count: number;
}

const WIDTH_S = 0.1;
const MOST_BINS = 64;

/** Medians over bins of 0.1 s (wider in long pulls or slow logs), from sample `from` to the end of the trace. */
export function boostBins(trace: BoostTrace, from: number): BoostBin[] {
  const { time, boost, rpm } = trace;
  const bins: BoostBin[] = [];
  if (from >= time.length) return bins;
  const startS = time[from];
  const endS = time[time.length - 1];
  const widthS = Math.max(WIDTH_S, (endS - startS) / MOST_BINS);
  let i = from;
  while (i < time.length) {
    const index = Math.floor((time[i] - startS) / widthS + 1e-6);
    let next = i + 1;
    while (next < time.length && Math.floor((time[next] - startS) / widthS + 1e-6) === index) next++;
    const middle = (values: Float64Array) => median(values.subarray(i, next));
    bins.push({ timeS: middle(time), rpm: middle(rpm), boostKpa: middle(boost), count: next - i });
    i = next;
  }
  return bins;
}

/** Engine speed and boost of all bins side by side, for fits over parts of them. */
export const binColumns = oncePer((bins: readonly BoostBin[]) => ({
  rpm: Float64Array.from(bins, (bin) => bin.rpm),
  boostKpa: Float64Array.from(bins, (bin) => bin.boostKpa),
}));
