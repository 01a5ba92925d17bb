import type { TrimBank } from './grid.ts';

/** A trim that stands at the end of its range: the true error is larger than it shows. */
export interface TrimStop {
  readonly trim: 'short term' | 'long term';
  readonly atPercent: number;
  readonly seconds: number;
}

/** Ranges end anywhere from ±15 to ±35 %, by calibration. Common practice, no source. */
const LEAST_STOP: Readonly<Record<TrimStop['trim'], number>> = { 'short term': 15, 'long term': 18 };
const LEAST_STAY_S = 5;
/** Long term trims stand still anyway: only round range ends count for them, %. */
const ROUND_ENDS = [20, 25, 30, 35];
const ROUND_WITHIN = 0.8;

function stop(values: Float64Array, kept: Uint32Array, trim: TrimStop['trim'], stepS: number): TrimStop | undefined {
  let extreme = 0;
  for (let k = 0, n = kept.length; k < n; k++) {
    const value = values[kept[k]];
    if (Math.abs(value) > Math.abs(extreme)) extreme = value;
  }
  if (Math.abs(extreme) < LEAST_STOP[trim]) return undefined;
  if (trim === 'long term' && !ROUND_ENDS.some((end) => Math.abs(Math.abs(extreme) - end) <= ROUND_WITHIN)) {
    return undefined;
  }
  let count = 0;
  for (const i of kept) if (Math.abs(values[i] - extreme) < 1e-6) count++;
  const seconds = count * stepS;
  return seconds >= LEAST_STAY_S ? { trim, atPercent: extreme, seconds } : undefined;
}

/** Trims of a bank that seem to stand at their stop while judged. */
export function trimStops(bank: TrimBank, kept: Uint32Array, stepS: number): TrimStop[] {
  return [
    bank.shortTerm && stop(bank.shortTerm, kept, 'short term', stepS),
    bank.longTerm && stop(bank.longTerm, kept, 'long term', stepS),
  ].filter((found) => found !== undefined);
}
