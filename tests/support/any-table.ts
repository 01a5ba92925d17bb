import fc from 'fast-check';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { convert } from '../../src/units/convert.ts';
import type { Unit } from '../../src/units/units.ts';

/** Channels of the invented recordings: canonical unit, range of values, and the units a logger may write. */
const QUANTITIES: Readonly<Record<string, { unit: Unit; low: number; high: number; logged: readonly Unit[] }>> = {
  engine_speed: { unit: 'rpm', low: 600, high: 8000, logged: ['rpm', 'Hz', 'krpm'] },
  vehicle_speed: { unit: 'km/h', low: 0, high: 250, logged: ['km/h', 'mph', 'm/s'] },
  throttle_position: { unit: '%', low: 0, high: 100, logged: ['%'] },
  manifold_pressure: { unit: 'kPa', low: 20, high: 300, logged: ['kPa', 'bar', 'mbar', 'psi', 'inHg'] },
  intake_air_temperature: { unit: 'degC', low: -20, high: 90, logged: ['degC', 'degF', 'K'] },
  mass_air_flow: { unit: 'g/s', low: 1, high: 400, logged: ['g/s', 'kg/h', 'lb/min'] },
  injector_pulse_width: { unit: 'ms', low: 0.5, high: 25, logged: ['ms', 'us'] },
  battery_voltage: { unit: 'V', low: 11, high: 15, logged: ['V', 'mV'] },
  spark_advance: { unit: 'deg', low: -10, high: 45, logged: ['deg'] },
};

const IDS = Object.keys(QUANTITIES) as ChannelId[];
const AIR_KPA = 98;

/** A channel as a logger writes it. */
export interface Written {
  readonly id: ChannelId;
  readonly unit: Unit;
  /** Digits behind the decimal character: the quantisation of the file. */
  readonly decimals: number;
  /** Gauge pressure is written against this; 0 where the pressure is absolute or the channel is none. */
  readonly againstKpa: number;
  readonly values: readonly (number | undefined)[];
}

/** Invented rows: one instant each; undefined where the cell is blank. Values in canonical units. */
export interface AnyTable {
  readonly rateHz: number;
  readonly rows: number;
  readonly channels: readonly Written[];
}

export const AIR_PRESSURE_KPA = AIR_KPA;

/** What canonical value lies behind a written number. */
export function fromLogged({ id, unit, againstKpa }: Written, logged: number): number {
  return convert(logged, unit, QUANTITIES[id].unit) + againstKpa;
}

export function asLogged({ id, unit, againstKpa }: Written, canonical: number): number {
  return convert(canonical - againstKpa, QUANTITIES[id].unit, unit);
}

/** Half a step of the last digit, in the canonical unit, and the dust of the conversion. */
export function quantisation(written: Written): number {
  const step = 10 ** -written.decimals;
  const width = Math.abs(fromLogged(written, step) - fromLogged(written, 0));
  return width / 2 + 1e-6;
}

const channel = (id: ChannelId, rows: number, blanks: boolean): fc.Arbitrary<Written> => {
  const { low, high, logged } = QUANTITIES[id];
  return fc
    .record({
      unit: fc.constantFrom(...logged),
      gauge: fc.boolean(),
      // A walk with a different value in every row, so that no cell counts as a held one.
      steps: fc.array(fc.integer({ min: 1, max: 9973 }), { minLength: rows, maxLength: rows }),
      blank: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: rows, maxLength: rows }),
    })
    .map(({ unit, gauge, steps, blank }) => {
      const step = Math.abs(convert(high, QUANTITIES[id].unit, unit) - convert(low, QUANTITIES[id].unit, unit)) / 10000;
      let share = 0;
      const values = steps.map((more, row) => {
        share = (share + more) % 10007;
        const isBlank = blanks && blank[row] === 0 && row > 0 && row < rows - 1;
        return isBlank ? undefined : low + ((high - low) * share) / 10007;
      });
      const decimals = Math.max(0, Math.ceil(1 - Math.log10(step)));
      return { id, unit, decimals, againstKpa: id === 'manifold_pressure' && gauge ? AIR_KPA : 0, values };
    });
};

/** Recordings of any channels, any length and rate. */
export const anyTable: fc.Arbitrary<AnyTable> = fc
  .record({
    ids: fc.shuffledSubarray(IDS, { minLength: 1, maxLength: 5 }),
    rows: fc.integer({ min: 8, max: 40 }),
    rateHz: fc.constantFrom(1, 4, 10, 20, 50, 100),
    blanks: fc.boolean(),
  })
  .chain(({ ids, rows, rateHz, blanks }) =>
    fc.tuple(...ids.map((id) => channel(id, rows, blanks))).map((channels): AnyTable => ({ rateHz, rows, channels })),
  );
