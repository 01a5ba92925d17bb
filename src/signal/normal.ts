const density = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** Φ(z) − 1/2 by its power series; converges for all z, used where it keeps full accuracy. */
function centralArea(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 3; Math.abs(term) > 1e-17 * Math.abs(sum); k += 2) {
    term *= (z * z) / k;
    sum += term;
  }
  return density(z) * sum;
}

/** 1 − Φ(z) for z ≥ 2 by the continued fraction of the Mills ratio. */
function upperTail(z: number): number {
  let fraction = z;
  for (let k = 200; k >= 1; k--) fraction = z + k / fraction;
  return density(z) / fraction;
}

/**
 * Standard normal distribution function Φ(z), good to about 13 digits, in the lower tail too.
 * @example normalCdf(1.959963984540054) // => 0.975
 */
export function normalCdf(z: number): number {
  if (z < -2) return upperTail(-z);
  if (z > 2) return 1 - upperTail(z);
  return 0.5 + centralArea(z);
}

/** Quantiles worked out before: a report asks for a few of them, a thousand times. */
const known = new Map<number, number>();

/**
 * Standard normal quantile Φ⁻¹(p): a rough start (Abramowitz and Stegun 26.2.22, from memory) polished by Halley's method on `normalCdf`.
 * @throws RangeError unless 0 < p < 1
 * @example normalQuantile(0.975) // => 1.959963984540
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a normal quantile needs a probability between 0 and 1, not ${p}`);
  if (p > 0.5) return -normalQuantile(1 - p);
  const before = known.get(p);
  if (before !== undefined) return before;
  const t = Math.sqrt(-2 * Math.log(p));
  let z = (2.30753 + 0.27061 * t) / (1 + 0.99229 * t + 0.04481 * t * t) - t;
  for (let i = 0; i < 20; i++) {
    const newton = (normalCdf(z) - p) / density(z);
    const step = newton / (1 + (z * newton) / 2);
    z -= step;
    if (Math.abs(step) < 1e-15) break;
  }
  known.set(p, z);
  return z;
}
