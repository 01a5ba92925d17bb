import { describe, expect, it } from 'vitest';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { channelOf, recordingOf } from '../channels/normalise-csv.ts';

// SAE J1979 / ISO 15031-5 service 01 scalings, as restated in public parameter tables and in the open source of the SAE J1699-3
// compliance tests (the standard itself was not read). Raw bytes as a logger may write them; the mapping's scale and offset decode them.

interface Decoding {
  readonly channel: ChannelId;
  readonly scale: number;
  readonly offset?: number;
  readonly raw: number;
  readonly expected: number;
  readonly tolerance?: number;
  readonly more?: object;
}

const TRIMS = [
  'short_term_fuel_trim_1',
  'long_term_fuel_trim_1',
  'short_term_fuel_trim_2',
  'long_term_fuel_trim_2',
] as const;
const TEMPERATURES = [
  'coolant_temperature',
  'intake_air_temperature',
  'oil_temperature',
  'charge_air_temperature',
] as const;
const percent = 100 / 255;

const DECODINGS: readonly Decoding[] = [
  // Fuel trims: 100 A / 128 - 100 %, exact in binary.
  ...TRIMS.flatMap((channel) =>
    (
      [
        [0x00, -100],
        [0x40, -50],
        [0x80, 0],
        [0x81, 0.78125],
        [0x8c, 9.375],
        [0x66, -20.3125],
        [0xa0, 25],
        [0xff, 99.21875],
      ] as const
    ).map(([raw, expected]) => ({ channel, scale: 100 / 128, offset: -100, raw, expected })),
  ),
  // Temperatures: A - 40 degC.
  ...TEMPERATURES.flatMap((channel) =>
    (
      [
        [0x00, -40],
        [0x28, 0],
        [0x41, 25],
        [0xff, 215],
      ] as const
    ).map(([raw, expected]) => ({ channel, scale: 1, offset: -40, raw, expected })),
  ),
  // MAP: A kPa absolute; with full scale 10 D from PID 4F: A × 10 D / 255.
  { channel: 'manifold_pressure', scale: 1, raw: 0xdc, expected: 220 },
  { channel: 'manifold_pressure', scale: 400 / 255, raw: 0x80, expected: 200.7843137255, tolerance: 1e-9 },
  { channel: 'manifold_pressure', scale: 400 / 255, raw: 0xff, expected: 400, tolerance: 1e-9 },
  { channel: 'manifold_pressure', scale: 1, raw: 0x80, expected: 128 },
  // Engine speed: (256 A + B) / 4 rpm.
  { channel: 'engine_speed', scale: 0.25, raw: 0x0bb8, expected: 750 },
  { channel: 'engine_speed', scale: 0.25, raw: 0x1af8, expected: 1726 },
  { channel: 'engine_speed', scale: 0.25, raw: 0x61a8, expected: 6250 },
  { channel: 'engine_speed', scale: 0.25, raw: 0xffff, expected: 16383.75 },
  { channel: 'vehicle_speed', scale: 1, raw: 0xff, expected: 255 },
  // Spark advance: A / 2 - 64 deg before TDC.
  { channel: 'spark_advance', scale: 0.5, offset: -64, raw: 0x00, expected: -64 },
  { channel: 'spark_advance', scale: 0.5, offset: -64, raw: 0x80, expected: 0 },
  { channel: 'spark_advance', scale: 0.5, offset: -64, raw: 0x94, expected: 10 },
  { channel: 'spark_advance', scale: 0.5, offset: -64, raw: 0x5c, expected: -18 },
  { channel: 'spark_advance', scale: 0.5, offset: -64, raw: 0xff, expected: 63.5 },
  // Mass air flow: (256 A + B) / 100 g/s.
  { channel: 'mass_air_flow', scale: 0.01, raw: 0x4e20, expected: 200 },
  { channel: 'mass_air_flow', scale: 0.01, raw: 0xffff, expected: 655.35, tolerance: 1e-9 },
  // Throttle and alcohol: 100 A / 255 %.
  { channel: 'throttle_position', scale: percent, raw: 0x33, expected: 20, tolerance: 1e-12 },
  { channel: 'throttle_position', scale: percent, raw: 0x80, expected: 50.196078431373, tolerance: 1e-9 },
  { channel: 'ethanol_content', scale: percent, raw: 0xd9, expected: 85.098039215686, tolerance: 1e-9 },
  { channel: 'wastegate_duty', scale: percent, raw: 0xff, expected: 100, tolerance: 1e-9 },
  { channel: 'calculated_load', scale: percent, raw: 0xff, expected: 100, tolerance: 1e-9 },
  { channel: 'absolute_load', scale: percent, raw: 0x01ec, expected: 192.941176470588, tolerance: 1e-9 },
  { channel: 'absolute_load', scale: percent, raw: 0xffff, expected: 25700, tolerance: 1e-9 },
  // Fuel rail pressure: 3 A kPa gauge (0A), 10 (256 A + B) gauge (23), 10 (256 A + B) absolute (59).
  { channel: 'fuel_rail_pressure', scale: 3, raw: 0xff, expected: 765, more: { reference: 'gauge' } },
  { channel: 'fuel_rail_pressure', scale: 10, raw: 0x012c, expected: 3000, more: { reference: 'gauge' } },
  {
    channel: 'fuel_rail_pressure',
    scale: 10,
    raw: 0x07d0,
    expected: 20000 - 101.325,
    tolerance: 1e-9,
    more: { reference: 'absolute' },
  },
  // Equivalence ratio, numerically lambda: (256 A + B) × 2 / 65536.
  { channel: 'lambda', scale: 2 / 65536, raw: 0x8000, expected: 1 },
  { channel: 'lambda', scale: 2 / 65536, raw: 0x6666, expected: 0.79998779296875 },
  { channel: 'lambda_target', scale: 2 / 65536, raw: 0x6400, expected: 0.78125 },
  { channel: 'lambda_target', scale: 2 / 65536, raw: 0x6ccd, expected: 0.850006103515625 },
  { channel: 'lambda', scale: 2 / 65536, raw: 0xffff, expected: 1.999969482421875 },
  { channel: 'barometric_pressure', scale: 1, raw: 0x54, expected: 84 },
  { channel: 'battery_voltage', scale: 0.001, raw: 0x34bc, expected: 13.5, tolerance: 1e-12 },
  { channel: 'battery_voltage', scale: 0.001, raw: 0x2ee0, expected: 12, tolerance: 1e-12 },
  // Commanded and actual boost pressure (70): word × 0.03125 kPa.
  { channel: 'manifold_pressure_target', scale: 0.03125, raw: 0x1b80, expected: 220, more: { reference: 'absolute' } },
];

describe('raw J1979 bytes through scale and offset of a mapping', () => {
  it.each(DECODINGS)('$channel $raw → $expected', ({ channel, scale, offset, raw, expected, tolerance, more }) => {
    const csv = `t,X\n0,${raw}\n0.1,${raw}\n0.2,${raw}`;
    const source = { column: 'X', scale, ...(offset === undefined ? {} : { offset }), ...more };
    const [value] = channelOf(recordingOf(csv, { channels: { [channel]: source } }), channel).values;
    if (tolerance === undefined) expect(value).toBe(expected);
    else expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance);
  });

  it('fuel system status codes stay as they are: 1, 4, 8 open loop, 2, 16 closed loop', () => {
    const csv = 't,FUELSYS1\n0,0\n1,1\n2,2\n3,4\n4,8\n5,16';
    const status = channelOf(recordingOf(csv, { channels: { fuel_system_status: 'FUELSYS1' } }), 'fuel_system_status');
    expect([...status.values]).toEqual([0, 1, 2, 4, 8, 16]);
  });
});
