import type { CleanTemperature } from '../drive/charge/clean.ts';
import { type Drive, REGIMES, type Regime } from '../drive/drive.ts';
import { regimesAt } from '../drive/regime-at.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import type { Cause } from './finding.ts';

const degrees = (value: number) => formatQuantity(value, 'degC');

export const HOT_NEXT = {
  Coolant: [
    'Stop and let it cool; check coolant level once it is cold, never open a hot system.',
    'Check fan, thermostat, air path through the radiator and air in the system.',
    'Check for combustion gas in the coolant before any further full load.',
  ],
  Oil: [
    'Let the engine cool at light load; check oil level and grade.',
    'Check the oil cooler, its thermostat and its air path.',
    'Shorten the pulls, or fit an oil cooler, before the next step.',
  ],
} as const;

/** Readings left out, in words. */
export function jumpWords({ jumps, implausible }: CleanTemperature, name: string): string[] {
  return [
    ...jumps
      .slice(0, 3)
      .map(
        ({ startS, endS, topC }) =>
          `Left out: ${name.toLowerCase()} jumped to ${degrees(topC)} and back between ${formatQuantity(startS, 's')} and ${formatQuantity(endS, 's')}, faster than it can: a question of sensor or wiring.`,
      ),
    ...(jumps.length > 3 ? [`Left out: ${jumps.length - 3} more jumps of the same kind.`] : []),
    ...(implausible > 0
      ? [`Left out: ${implausible} reading${implausible === 1 ? '' : 's'} outside what the sensor can show.`]
      : []),
  ];
}

/** Why it may be hot, from where in the drive it is. */
export function hotCauses(drive: Drive, name: 'Coolant' | 'Oil', values: Float64Array, time: Float64Array): Cause[] {
  const regimes = regimesAt(drive, time);
  const level = (wanted: Regime) => {
    const found = values.filter((_, i) => REGIMES[regimes[i]] === wanted);
    return found.length >= 3 ? median(found) : undefined;
  };
  const [standing, driving, pulling] = [level('idle'), level('cruise'), level('pull')];
  const said = (label: string, value: number | undefined) =>
    value === undefined ? [] : [`${label} ${degrees(value)}`];
  if (name === 'Oil') {
    const isDriven = pulling !== undefined && driving !== undefined && pulling > driving + 5;
    return [
      {
        cause: 'Too much full load for the oil cooling fitted',
        for: isDriven ? said('in pulls', pulling) : [],
        against: isDriven ? [] : said('while cruising', driving),
      },
      { cause: 'Low oil level, or a cooler that is bypassed or blocked', for: [], against: [] },
    ];
  }
  const isStanding = standing !== undefined && driving !== undefined && standing > driving + 5;
  const isDriving = standing !== undefined && driving !== undefined && driving >= standing;
  return [
    {
      cause: 'The fan does not cool at standstill',
      for: isStanding ? said('at idle', standing) : [],
      against: isDriving ? said('at idle', standing) : [],
    },
    {
      cause: 'Too little coolant, a blocked radiator or a thermostat that does not open',
      for: isDriving ? said('while cruising', driving) : [],
      against: [],
    },
    { cause: 'Combustion gas in the coolant', for: [], against: [] },
    { cause: 'Sensor or scaling', for: [], against: [] },
  ];
}
