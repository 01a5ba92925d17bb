export type Spot = readonly [x: number, y: number];

/** SVG path data of lines: tenths of a unit, and no point in the middle of a level stretch. */
export function linePath(runs: readonly (readonly Spot[])[]): string {
  return runs
    .filter((run) => run.length > 0)
    .map(runPath)
    .join('');
}

function runPath(run: readonly Spot[]): string {
  const spots = run.map(([x, y]) => [tenth(x), tenth(y)] as const);
  const kept = spots.filter(
    ([, y], i) => i === 0 || i === spots.length - 1 || y !== spots[i - 1][1] || y !== spots[i + 1][1],
  );
  // A single point shows as a dot where line ends are round.
  const drawn = kept.length === 1 ? [kept[0], kept[0]] : kept;
  return `M${drawn.map(([x, y]) => `${x} ${y}`).join(' ')}`;
}

const tenth = (value: number) => Math.round(value * 10) / 10 + 0;
