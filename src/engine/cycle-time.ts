/** Strokes in an engine cycle: four take two revolutions, two take one. */
export type Strokes = 2 | 4;

/**
 * Time of one engine cycle.
 * @returns ms
 * @throws RangeError unless the engine turns
 * @example cycleTimeMs(6000, 4) // => 20
 */
export function cycleTimeMs(rpm: number, strokes: Strokes): number {
  if (!(rpm > 0)) throw new RangeError(`no cycle time at ${rpm} rpm`);
  return (strokes * 30000) / rpm;
}
