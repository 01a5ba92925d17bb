/** A stretch of indexes, `end` exclusive. */
export interface Run {
  readonly start: number;
  readonly end: number;
}

/**
 * Stretches of consecutive indexes for which `predicate` holds, in order, `end` exclusive.
 * @example runsWhere(5, (i) => i !== 2) // => [{ start: 0, end: 2 }, { start: 3, end: 5 }]
 */
export function runsWhere(n: number, predicate: (index: number) => boolean): Run[] {
  const runs: Run[] = [];
  let start = -1;
  for (let i = 0; i <= n; i++) {
    const inside = i < n && predicate(i);
    if (inside && start < 0) start = i;
    if (!inside && start >= 0) {
      runs.push({ start, end: i });
      start = -1;
    }
  }
  return runs;
}
