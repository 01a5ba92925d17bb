import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convert, convertDifference } from '../../src/units/convert.ts';
import { dimensionOf, UNITS, type Unit } from '../../src/units/units.ts';

const units = Object.keys(UNITS) as Unit[];
const pairs = units.flatMap((from) =>
  units.filter((to) => dimensionOf(to) === dimensionOf(from)).map((to) => [from, to] as const),
);

describe('conversion', () => {
  it('comes back to where it started, and keeps differences', () => {
    fc.assert(
      fc.property(fc.constantFrom(...pairs), fc.double({ min: -1e5, max: 1e5, noNaN: true }), ([from, to], value) => {
        const tolerance = 1e-9 * Math.max(1, Math.abs(value));
        expect(Math.abs(convert(convert(value, from, to), to, from) - value)).toBeLessThan(tolerance);
        const rise = convert(value + 1, from, to) - convert(value, from, to);
        const scale = Math.max(1, Math.abs(convert(value, from, to)));
        expect(Math.abs(rise - convertDifference(1, from, to))).toBeLessThan(1e-9 * scale);
      }),
      { numRuns: 300 },
    );
  });

  it('refuses to cross dimensions', () => {
    expect(() => convert(1, 'bar', 'rpm')).toThrow('bar (pressure) cannot become rpm (engine speed)');
  });
});
