import { UNITS, type Unit } from './units.ts';

interface Scales {
  readonly times: number;
  readonly over: number;
  readonly before: number;
  readonly after: number;
}

function scales(from: Unit, to: Unit): Scales {
  const source = UNITS[from];
  const target = UNITS[to];
  if (source.dimension !== target.dimension) {
    throw new Error(`${from} (${source.dimension}) cannot become ${to} (${target.dimension})`);
  }
  return {
    times: source.times * target.over,
    over: source.over * target.times,
    before: source.shift,
    after: target.shift,
  };
}

/** A difference in other units: a rise of 20 degC is a rise of 36 degF, without the offset of the scale. */
export function convertDifference(value: number, from: Unit, to: Unit): number {
  const { times, over } = scales(from, to);
  return (value * times) / over;
}

/**
 * A conversion ready for many values. Factors are exact by definition (NIST SP 811, appendix B), so the result is right
 * to the last few bits. Units of two dimensions are our own slip and throw.
 */
export function converter(from: Unit, to: Unit): (value: number) => number {
  if (from === to) return (value) => value;
  const { times, over, before, after } = scales(from, to);
  return (value) => ((value + before) * times) / over - after;
}

/** A value in other units of the same dimension: `convert(1, 'bar', 'kPa')` is 100. */
export const convert = (value: number, from: Unit, to: Unit): number => converter(from, to)(value);
