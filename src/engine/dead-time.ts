/** Battery voltage (V) against dead time (ms), by rising voltage. */
export type DeadTimeTable = readonly (readonly [volts: number, ms: number])[];

/**
 * Injector dead time at a battery voltage: straight lines between the table's points, the end points beyond them.
 * @returns ms
 * @throws RangeError if the table is empty
 * @example deadTimeMs([[12, 1.2], [14, 0.9]], 13) // => 1.05
 */
export function deadTimeMs(table: DeadTimeTable, volts: number): number {
  if (table.length === 0) throw new RangeError('a dead time needs at least one point in its table');
  const above = table.findIndex((point) => point[0] >= volts);
  if (above < 0) return table[table.length - 1][1];
  if (above === 0) return table[0][1];
  const [v0, ms0] = table[above - 1];
  const [v1, ms1] = table[above];
  return ms0 + ((volts - v0) / (v1 - v0)) * (ms1 - ms0);
}
