import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { convert } from '../../src/units/convert.ts';
import type { Unit } from '../../src/units/units.ts';
import { channelOf, recordingOf } from './normalise-csv.ts';

/** One drive in canonical units; every table below tells the same drive. */
const ROWS = 60;
const AIR_KPA = 97;
const TRUTH: Record<string, (i: number) => number> = {
  engine_speed: (i) => 900 + 80 * i + (i % 3),
  vehicle_speed: (i) => 20 + i,
  manifold_pressure: (i) => 40 + 2.5 * i + (i % 4),
  intake_air_temperature: (i) => 22 + i / 7,
  mass_air_flow: (i) => 5 + 3 * i,
  injector_pulse_width: (i) => 2 + i / 5,
  battery_voltage: (i) => 14 - (i % 5) / 10,
  lambda: (i) => 0.8 + (i % 9) / 50,
};

const UNITS_OF: Record<string, readonly string[]> = {
  engine_speed: ['rpm', 'Hz', 'krpm'],
  vehicle_speed: ['km/h', 'mph', 'm/s'],
  manifold_pressure: ['kPa', 'bar', 'mbar', 'psi', 'inHg', 'mmHg', 'hPa', 'kg/cm2', 'psig', 'psia', 'barg'],
  intake_air_temperature: ['degC', 'degF', 'K'],
  mass_air_flow: ['g/s', 'kg/h', 'lb/min'],
  injector_pulse_width: ['ms', 'us', 's'],
  battery_voltage: ['V', 'mV'],
  lambda: ['lambda', 'AFR', 'phi'],
};

const CANONICAL: Record<string, Unit> = {
  engine_speed: 'rpm',
  vehicle_speed: 'km/h',
  manifold_pressure: 'kPa',
  intake_air_temperature: 'degC',
  mass_air_flow: 'g/s',
  injector_pulse_width: 'ms',
  battery_voltage: 'V',
};

function asLogged(id: string, unit: string, canonical: number): number {
  if (id === 'lambda') return unit === 'AFR' ? canonical * 14.7 : unit === 'phi' ? 1 / canonical : canonical;
  const gauge = unit.endsWith('g') && id === 'manifold_pressure' && unit !== 'inHg' && unit !== 'mmHg';
  const plain = unit === 'psia' ? 'psi' : gauge ? unit.slice(0, -1) : unit;
  return convert(gauge ? canonical - AIR_KPA : canonical, CANONICAL[id], plain as Unit);
}

const ids = Object.keys(TRUTH);

const style = fc.record({
  units: fc.tuple(...ids.map((id) => fc.constantFrom(...UNITS_OF[id]))),
  where: fc.constantFrom('mapping', 'brackets', 'suffix'),
  delimiter: fc.constantFrom(',', ';', '\t'),
  time: fc.constantFrom('s', 'ms', 'us', 'min', 'epoch_ms'),
  start: fc.constantFrom(0, 100),
  order: fc.shuffledSubarray(ids, { minLength: ids.length }),
});

const TIME_FACTOR: Record<string, number> = { s: 1, ms: 1e3, us: 1e6, min: 1 / 60, epoch_ms: 1e3 };

describe('a table in any system of units', () => {
  it('normalises to the same recording', () => {
    fc.assert(
      fc.property(style, ({ units, where, delimiter, time, start, order }) => {
        const unitOf = (id: string) => units[ids.indexOf(id)];
        const name = (id: string) =>
          where === 'mapping'
            ? id.toUpperCase()
            : where === 'brackets'
              ? `${id.toUpperCase()} [${unitOf(id)}]`
              : `${id.toUpperCase()} ${unitOf(id)}`;
        const offset = time === 'epoch_ms' ? 1714550400000 : start * TIME_FACTOR[time];
        const rows = Array.from({ length: ROWS }, (_, i) =>
          [offset + (i / 10) * TIME_FACTOR[time], ...order.map((id) => asLogged(id, unitOf(id), TRUTH[id](i)))].join(
            delimiter,
          ),
        );
        const csv = [['stamp', ...order.map(name)].join(delimiter), ...rows].join('\n');
        const channels = Object.fromEntries(
          ids.map((id) => {
            const reference =
              id === 'manifold_pressure' && !/[ag]$/.test(unitOf(id).replace(/Hg|kPa|hPa/, 'x'))
                ? { reference: 'absolute' }
                : {};
            return [id, { column: name(id), ...(where === 'mapping' ? { unit: unitOf(id) } : {}), ...reference }];
          }),
        );
        const recording = recordingOf(
          csv,
          { time: { column: 'stamp', unit: time }, channels },
          { barometricKpa: AIR_KPA },
        );
        for (const id of ids) {
          const channel = channelOf(recording, id as ChannelId);
          expect(channel.values).toHaveLength(ROWS);
          for (let i = 0; i < ROWS; i++) {
            expect(Math.abs(channel.time[i] - i / 10)).toBeLessThan(1e-6);
            expect(Math.abs(channel.values[i] - TRUTH[id](i))).toBeLessThan(1e-7 * Math.max(1, Math.abs(TRUTH[id](i))));
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});
