/** What sets the fuel pressure: follows the manifold, or stays fixed against the outside air. */
export type Regulator = 'manifold-referenced' | 'fixed';

/**
 * Pressure across the injector. A manifold-referenced regulator holds it at the set pressure. A fixed one holds the rail
 * against the outside air, so that boost takes from it: rail gauge + barometric − manifold absolute. A logged rail
 * pressure (gauge) is always of the second kind.
 * @param railKpaGauge set or logged fuel pressure, gauge
 * @returns kPa
 * @example injectorDifferentialKpa('fixed', 400, 101, 250) // => 251
 */
export function injectorDifferentialKpa(
  regulator: Regulator,
  railKpaGauge: number,
  barometricKpa: number,
  manifoldKpaAbs: number,
): number {
  return regulator === 'fixed' ? railKpaGauge + barometricKpa - manifoldKpaAbs : railKpaGauge;
}
