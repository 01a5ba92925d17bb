import { expect } from 'vitest';

/** Expects agreement to a relative tolerance (absolute where the expected value is 0). */
export function expectRelative(actual: number, expected: number, tolerance: number): void {
  const scale = expected === 0 ? 1 : Math.abs(expected);
  expect(Math.abs(actual - expected) / scale, `${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
}
