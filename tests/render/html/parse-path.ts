/** The points of an SVG path that only moves and draws straight lines in absolute coordinates. */
export function parsePath(path: string): number[][][] {
  return path
    .split('M')
    .slice(1)
    .map((run) => {
      const numbers = run.split(' ').map(Number);
      if (numbers.some((value) => !Number.isFinite(value))) throw new Error(`not a number in ${run}`);
      return Array.from({ length: numbers.length / 2 }, (_, i) => [numbers[2 * i], numbers[2 * i + 1]]);
    });
}
