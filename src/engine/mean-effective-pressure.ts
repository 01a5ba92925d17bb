import type { Strokes } from './cycle-time.ts';

/**
 * Brake mean effective pressure: the steady pressure on the pistons that would do the same work, 4π T/V for a four-stroke and
 * 2π T/V for a two-stroke.
 * @returns kPa
 * @throws RangeError unless the engine has a displacement
 * @example brakeMeanEffectivePressureKpa(400, 2, 4) // => 2513.27
 */
export function brakeMeanEffectivePressureKpa(torqueNm: number, displacementL: number, strokes: Strokes): number {
  if (!(displacementL > 0)) throw new RangeError(`no mean pressure in ${displacementL} L`);
  return (strokes * Math.PI * torqueNm) / displacementL;
}
