import type { TraceLine } from '../../report/pull-traces.ts';
import type { Spot } from './line-path.ts';
import type { LinearScale, Range } from './linear-scale.ts';

export type Across = 'rpm' | 'time';

export interface Plane {
  readonly across: Across;
  readonly x: LinearScale;
  readonly y: LinearScale;
  /** The pull itself; over engine speed nothing else is drawn. */
  readonly pullS: Range;
}

/** The parts of a line that lie on the plot; one that leaves it ends at the edge, and is not bent along it. */
export function visibleRuns({ runs }: TraceLine, { across, x, y, pullS: [from, to] }: Plane): Spot[][] {
  return runs.flatMap((run) => {
    const points = run
      .filter(([timeS]) => across === 'time' || (timeS >= from && timeS <= to))
      .map(([timeS, rpm, value]) => [across === 'time' ? timeS : rpm, value] as const);
    return cutAtEdges(points, y.domain).map((part) => part.map(([at, value]) => [x.at(at), y.at(value)] as const));
  });
}

/** A line of points, cut where it crosses the lower or upper edge. */
export function cutAtEdges(points: readonly Spot[], edges: Range): Spot[][] {
  const parts: Spot[][] = [];
  let open: Spot[] | undefined;
  const add = (spot: Spot) => {
    if (!open) {
      open = [];
      parts.push(open);
    }
    open.push(spot);
  };
  points.forEach((point, i) => {
    const crossed = i === 0 ? [] : crossings(points[i - 1], point, edges);
    for (const spot of crossed) add(spot);
    if (isBetween(point[1], edges)) add(point);
    else open = undefined;
  });
  return parts;
}

const isBetween = (value: number, [low, high]: Range) => value >= low && value <= high;

/** Where the straight line from one point to the next goes through an edge, in its own order. */
function crossings(from: Spot, to: Spot, edges: Range): Spot[] {
  return edges
    .filter((edge) => (from[1] - edge) * (to[1] - edge) < 0)
    .map((edge): Spot => [from[0] + ((edge - from[1]) / (to[1] - from[1])) * (to[0] - from[0]), edge])
    .sort((a, b) => Math.abs(a[1] - from[1]) - Math.abs(b[1] - from[1]));
}
