/** One change of value: rows since the change before, and its size. */
export interface ValueChange {
  readonly gapRows: number;
  readonly size: number;
}

/** How unlikely the aligned gaps must be by chance, as −ln of the probability: one in a million. */
const EVIDENCE = 14;
/** Relative differences below this come from arithmetic in the logger, not from the signal. */
const ROUNDING = 1e-6;
/** Rows; no poll takes longer, even where a logger writes a hundred rows a second. */
const LONGEST_PERIOD = 1000;
/** Rows; beyond this a slow signal may change at like intervals for a while by itself, so that more must be seen. */
const LONG_PERIOD = 60;
/** Longest multiple of the period that is still compared; beyond it an error of the period adds up. */
const LONGEST_MULTIPLE = 8;
/** Largest share of gaps of a single row in a held signal: at two rows a period, an uneven clock polls a row early now and then. */
export const SHORTEST_GAPS_AT_MOST = 0.28;
/** Largest share of gaps shorter than a period of three rows or more. */
const SHORT_GAPS_AT_MOST = 0.15;
/** Share of moves that must come one period after the change before. */
const SINGLE_GAPS_AT_LEAST = 0.4;
/** Share of longer gaps that must be whole multiples of the period. */
const ALIGNED_AT_LEAST = 0.92;

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function share(values: ArrayLike<number>, test: (value: number) => boolean): number {
  let count = 0;
  for (let i = 0, n = values.length; i < n; i++) if (test(values[i])) count++;
  return values.length > 0 ? count / values.length : 0;
}

/**
 * Size from which a change is a move and not one notch of a coarse scale. Where the smallest changes come in many
 * sizes, the scale is finer than the moves and every change counts. Otherwise three notches are asked for, because a
 * slow signal on a coarse scale steps one notch (two where its unit was converted and rounded) at regular intervals
 * without being held.
 */
function smallestMove(changes: readonly ValueChange[]): number {
  const all = Float64Array.from(changes, (c) => c.size).sort();
  const sizes = all.filter((size) => size > ROUNDING * all[all.length - 1]);
  const notch = sizes[0];
  let kinds = 1;
  for (let i = 1; i < sizes.length && sizes[i] < 2.5 * notch; i++) {
    if (sizes[i] - sizes[i - 1] > ROUNDING * sizes[i]) kinds++;
  }
  return kinds >= 5 ? notch : 3 * notch;
}

/** The most common gap and the rows by which the clock of the poll and that of the log may disagree. */
function commonest(gaps: readonly number[]): { rows: number; tolerance: number } {
  const counts = new Map<number, number>();
  for (const gap of gaps) counts.set(gap, (counts.get(gap) ?? 0) + 1);
  let rows = 0;
  for (const [gap, count] of counts) {
    const best = counts.get(rows) ?? 0;
    if (count > best || (count === best && gap < rows)) rows = gap;
  }
  return { rows, tolerance: rows >= 3 ? Math.max(1, Math.round(0.12 * rows)) : 0 };
}

/**
 * A signal that moves: sampled at every row it would change at nearly every row, held it changes once a period. Short
 * gaps must be absent, and many gaps must be one period, before changes that are real moves.
 */
function periodOfMoves(changes: readonly ValueChange[]): number | undefined {
  const move = smallestMove(changes) * (1 - ROUNDING);
  const gaps = changes.filter((c) => c.size >= move).map((c) => c.gapRows);
  if (gaps.length === 0) return undefined;
  const { rows, tolerance } = commonest(gaps);
  if (rows < 2 || rows > LONGEST_PERIOD) return undefined;
  const longestSingle = rows + Math.max(1, tolerance);
  const singles = gaps.filter((g) => g >= rows - tolerance && g <= longestSingle).length;
  const short = changes.filter((c) => c.gapRows < rows - tolerance).length;
  if (short > (rows === 2 ? SHORTEST_GAPS_AT_MOST : SHORT_GAPS_AT_MOST) * changes.length) return undefined;
  if (singles < SINGLE_GAPS_AT_LEAST * gaps.length) return undefined;
  if (singles < leastSingles(rows - tolerance)) return undefined;
  return mean(gaps.filter((g) => g <= longestSingle));
}

/** Gaps of one period that must be seen: a repeated reading before a jump may be chance, three in a row hardly ever are. */
function leastSingles(shortestRows: number): number {
  if (shortestRows < 3) return 12;
  return shortestRows > LONG_PERIOD ? 8 : 5;
}

/** The period that best explains gaps of up to four periods, started from a gap of one. */
function refinedPeriod(gaps: ArrayLike<number>, oneGap: number, whole: boolean): number {
  let period = oneGap;
  for (let round = 0; round < 3; round++) {
    let rows = 0;
    let periods = 0;
    for (let i = 0, n = gaps.length; i < n; i++) {
      const multiple = Math.round(gaps[i] / period);
      if (multiple < 1 || multiple > (round === 0 ? 1 : 4)) continue;
      rows += gaps[i];
      periods += multiple;
    }
    period = whole ? Math.round(rows / periods) : rows / periods;
  }
  return period;
}

/**
 * A signal that only dithers: held, it changes after one, two, three … periods and never between. Only gaps of two
 * periods and more are evidence, since a slow ramp or a sawtooth on a coarse scale repeats one gap by itself.
 */
function periodOfMultiples(changes: readonly ValueChange[], tolerance: 0 | 1): number | undefined {
  const gaps = Float64Array.from(changes, (c) => c.gapRows).sort();
  const shortest = gaps[Math.floor(0.05 * gaps.length)];
  if (shortest < (tolerance === 0 ? 2 : 5) || shortest > LONGEST_PERIOD) return undefined;
  const period = refinedPeriod(gaps, shortest, tolerance === 0);
  const multiples = gaps.filter((g) => g >= 1.5 * period && g <= (LONGEST_MULTIPLE + 0.5) * period);
  const aligned = share(multiples, (g) => Math.abs(g - Math.round(g / period) * period) <= tolerance);
  const distinct = new Set(Array.from(multiples, (g) => Math.round(g / period))).size;
  const chance = (2 * tolerance + 1) / period;
  const single = share(gaps, (g) => Math.abs(g - period) <= tolerance);
  if (multiples.length * Math.log(1 / chance) < EVIDENCE || distinct < 2) return undefined;
  return aligned >= ALIGNED_AT_LEAST && single >= 0.1 ? period : undefined;
}

/**
 * Rows for which values are held between updates, from the gaps between changes; undefined where the changes do not
 * show a hold beyond chance, in particular for a signal that hardly moves.
 * @param changes of value, in order of time
 * @returns rows in a period, at least 2 or nearly so, not always whole
 */
export function holdPeriodRows(changes: readonly ValueChange[]): number | undefined {
  if (changes.length < 5) return undefined;
  return periodOfMoves(changes) ?? periodOfMultiples(changes, 0) ?? periodOfMultiples(changes, 1);
}
