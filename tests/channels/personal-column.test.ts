import { describe, expect, it } from 'vitest';
import { columnsWanted } from '../../src/channels/columns-wanted.ts';
import { isPersonalColumn } from '../../src/channels/personal-column.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';

describe('isPersonalColumn', () => {
  it.each([
    'Latitude',
    'GPS Longitude (deg)',
    'lat',
    'Lon',
    'GPSLatitude',
    'Breitengrad',
    'VIN',
    'Vehicle VIN',
    'Number plate',
    'Kennzeichen',
    'Driver',
    'driver_name',
    'Owner',
    'Customer name',
    'Kunde',
    'Adresse',
    'Phone',
    'Telefon',
    'E-Mail',
    'email',
  ])('%s is', (name) => expect(isPersonalColumn(name)).toBe(true));

  it.each([
    'RPM',
    'Throttle Position',
    'Throttle plate angle',
    'Accelerator Pedal Position',
    'Wastegate Position',
    'Long FT 1',
    'Long Term Fuel Trim',
    'LONGFT1',
    'Lateral G',
    'Long. Acc',
    'GPS Speed (km/h)',
    'Driver Demand Torque',
    'MAP',
    'Time',
    'Altitude',
    'Plateau',
  ])('%s is not', (name) => expect(isPersonalColumn(name)).toBe(false));
});

describe('columnsWanted', () => {
  const wanted = (mapping: object) =>
    columnsWanted(
      parseMapping(JSON.stringify({ pullgate: 'map/1', time: { column: 'Time', unit: 's' }, ...mapping }), 'm'),
    );

  it('wants what the mapping names, in any spelling that matches, and nothing else', () => {
    const keep = wanted({
      channels: { engine_speed: 'rpm', manifold_pressure: { column: 'MAP', time: 'MAP time' } },
      ignore: ['map'],
    });
    expect(['Time', 'time [s]', 'RPM', 'RPM (1/min)', 'MAP', 'MAP_kPa', 'MAP time'].map(keep)).toEqual(
      Array(7).fill(true),
    );
    expect(['map', 'IAT', 'Latitude', 'MAP target'].map(keep)).toEqual(Array(4).fill(false));
  });

  it('of a long log only its own columns', () => {
    const keep = wanted({
      channels: { engine_speed: 'RPM' },
      layout: 'long',
      long: { name: 'n', value: 'v', unit: 'u' },
    });
    expect(['Time', 'n', 'v', 'u', 'RPM'].map(keep)).toEqual([true, true, true, true, false]);
  });
});
