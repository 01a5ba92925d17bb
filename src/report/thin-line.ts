/** Time since the start of the log, s; engine speed, rpm; the value in its track's unit. */
export type TracePoint = readonly [timeS: number, rpm: number, value: number];

/** Parts a line where samples lie further apart than `gapS`: nothing is drawn across. */
export function runsWithoutGaps(points: readonly TracePoint[], gapS: number): TracePoint[][] {
  const runs: TracePoint[][] = [];
  for (const point of points) {
    const run = runs.at(-1);
    if (run && point[0] - run[run.length - 1][0] <= gapS) run.push(point);
    else runs.push([point]);
  }
  return runs;
}

/**
 * At most `most` points that look the same: the first and last, and of each equal stretch of time between them the lowest
 * and highest, so that no peak is lost.
 */
export function thinLine(points: readonly TracePoint[], most: number): readonly TracePoint[] {
  if (points.length <= most) return points;
  const buckets = Math.max(1, Math.floor((most - 2) / 2));
  const [startS, endS] = [points[0][0], points[points.length - 1][0]];
  const kept = new Set<number>([0, points.length - 1]);
  let [bucket, low, high] = [0, 1, 1];
  for (let i = 1; i < points.length - 1; i++) {
    const own = Math.min(buckets - 1, Math.floor((buckets * (points[i][0] - startS)) / (endS - startS)));
    if (own !== bucket) {
      kept.add(low).add(high);
      [bucket, low, high] = [own, i, i];
    } else {
      if (points[i][2] < points[low][2]) low = i;
      if (points[i][2] > points[high][2]) high = i;
    }
  }
  kept.add(low).add(high);
  return [...kept].sort((a, b) => a - b).map((i) => points[i]);
}
