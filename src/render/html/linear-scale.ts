export type Range = readonly [number, number];

export interface LinearScale {
  readonly domain: Range;
  readonly at: (value: number) => number;
}

export function linearScale(domain: Range, range: Range): LinearScale {
  const span = domain[1] - domain[0];
  const slope = span === 0 ? 0 : (range[1] - range[0]) / span;
  return { domain, at: (value) => range[0] + slope * (value - domain[0]) };
}

/** Distance of ticks: 1, 2 or 5 times a power of ten, so that about `count` fall into the span. */
export function tickStep(span: number, count: number): number {
  const rough = span / Math.max(1, count);
  if (!(rough > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const error = rough / power;
  return power * (error >= Math.sqrt(50) ? 10 : error >= Math.sqrt(10) ? 5 : error >= Math.SQRT2 ? 2 : 1);
}

/** Multiples of the step inside the domain. */
export function ticks([low, high]: Range, count: number): number[] {
  const step = tickStep(high - low, count);
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toFixed(decimals)) + 0);
}

/** The domain widened to whole ticks. */
export function widened([low, high]: Range, count: number): Range {
  const step = tickStep(high - low, count);
  return [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
}
