import { describe, expect, it } from 'vitest';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { unitDoubts } from '../../src/channels/unit-doubts.ts';
import { recordingOf } from './normalise-csv.ts';

interface Told {
  readonly unit?: string;
  readonly reference?: 'gauge' | 'absolute';
  readonly scale?: number;
  readonly stoich?: number;
}

/** A drive of 200 s: key on, idle, cruise, a pull; `level` is -1 with the engine off, 0 at idle, 1 at full load. */
function doubtsOf(id: ChannelId, cell: (level: number, i: number) => number, told: Told, keyOn = true): string[] {
  const header = 't,RPM,X';
  const rows = Array.from({ length: 2000 }, (_, i) => {
    const off = keyOn && i < 80;
    const level = off ? -1 : i < 500 ? 0 : i < 1500 ? 0.4 : Math.min(1, (i - 1500) / 100);
    const rpm = off ? 0 : i < 500 ? 820 + (i % 7) : i < 1500 ? 2400 + (i % 11) : Math.min(6800, 2500 + (i - 1500) * 12);
    return `${(i * 0.1).toFixed(1)},${rpm},${cell(level, i).toFixed(5)}`;
  });
  const channels = { engine_speed: 'RPM', [id]: { column: 'X', ...told } };
  return unitDoubts(recordingOf([header, ...rows].join('\n'), { channels }));
}

const manifold = (level: number) => (level < 0 ? 99.5 : 33 + 152 * level);
const gauge = (level: number) => manifold(level) - 99.5;
const trim = (i: number) => 2.4 * Math.sin(i / 9) + 1;
const pulse = (level: number) => (level < 0 ? 0 : 2.1 + 14 * level);
const share = (level: number) => Math.max(0, level) * 0.97;
const warm = (i: number) => Math.min(90, 40 + i / 20);

type Case = readonly [
  name: string,
  id: ChannelId,
  cell: (level: number, i: number) => number,
  wrong: Told,
  right: Told,
  says: string,
];

const MISTAKES: readonly Case[] = [
  [
    'AFR mapped as lambda',
    'lambda',
    (l) => (l > 0.9 ? 12 : 14.7),
    { unit: 'lambda' },
    { unit: 'AFR' },
    '"unit": "AFR"',
  ],
  [
    'lambda mapped as AFR',
    'lambda',
    (l) => (l > 0.9 ? 0.82 : 1),
    { unit: 'AFR' },
    { unit: 'lambda' },
    '"unit": "lambda"',
  ],
  [
    'ethanol as a share of one',
    'ethanol_content',
    (_, i) => 0.8 + (i % 5) / 100,
    { unit: '%' },
    { unit: 'ratio' },
    '"unit": "ratio"',
  ],
  [
    'absolute as gauge',
    'manifold_pressure',
    manifold,
    { unit: 'kPa', reference: 'gauge' },
    { unit: 'kPa', reference: 'absolute' },
    '"reference": "absolute"',
  ],
  [
    'gauge as absolute',
    'manifold_pressure',
    gauge,
    { unit: 'kPa', reference: 'absolute' },
    { unit: 'kPa', reference: 'gauge' },
    '"reference": "gauge"',
  ],
  [
    'mbar as kPa',
    'manifold_pressure',
    (l) => 10 * manifold(l),
    { unit: 'kPa', reference: 'absolute' },
    { unit: 'mbar', reference: 'absolute' },
    '"unit": "mbar"',
  ],
  [
    'psi as kPa',
    'manifold_pressure',
    (l) => manifold(l) / 6.894757,
    { unit: 'kPa', reference: 'absolute' },
    { unit: 'psi', reference: 'absolute' },
    '"unit": "psi"',
  ],
  [
    'bar as kPa',
    'manifold_pressure',
    (l) => manifold(l) / 100,
    { unit: 'kPa', reference: 'absolute' },
    { unit: 'bar', reference: 'absolute' },
    '"unit": "bar"',
  ],
  [
    'psi gauge as kPa gauge',
    'manifold_pressure',
    (l) => gauge(l) / 6.894757,
    { unit: 'kPa', reference: 'gauge' },
    { unit: 'psi', reference: 'gauge' },
    '"unit": "psi"',
  ],
  [
    'bar gauge as kPa gauge',
    'manifold_pressure',
    (l) => gauge(l) / 100,
    { unit: 'kPa', reference: 'gauge' },
    { unit: 'bar', reference: 'gauge' },
    '"unit": "bar"',
  ],
  ['air pressure in mbar', 'barometric_pressure', () => 995, { unit: 'kPa' }, { unit: 'mbar' }, '"unit": "mbar"'],
  [
    'rail pressure in psi',
    'fuel_rail_pressure',
    (l) => 43 + 8 * Math.max(0, l),
    { unit: 'kPa' },
    { unit: 'psi' },
    '"unit": "psi"',
  ],
  [
    '°F as °C',
    'coolant_temperature',
    (_l, i) => warm(i) * 1.8 + 32,
    { unit: 'degC' },
    { unit: 'degF' },
    '"unit": "degF"',
  ],
  ['°C as °F', 'coolant_temperature', () => 90, { unit: 'degF' }, { unit: 'degC' }, '"unit": "degC"'],
  ['Kelvin as °C', 'coolant_temperature', (_l, i) => warm(i) + 273.15, { unit: 'degC' }, { unit: 'K' }, '"unit": "K"'],
  [
    'intake °F as °C',
    'intake_air_temperature',
    (_l, i) => 82 + (i % 5),
    { unit: 'degC' },
    { unit: 'degF' },
    '"unit": "degF"',
  ],
  ['duty in 0 to 1', 'injector_duty', (l) => share(l), { unit: '%' }, { unit: 'ratio' }, '"unit": "ratio"'],
  [
    'duty in per cent as share',
    'injector_duty',
    (l) => 100 * share(l),
    { unit: 'ratio' },
    { unit: '%' },
    '"unit": "%"',
  ],
  ['pedal in 0 to 1', 'accelerator_position', (l) => share(l), { unit: '%' }, { unit: 'ratio' }, '"unit": "ratio"'],
  [
    'retard with the wrong sign',
    'knock_retard_1',
    (_l, i) => (i % 400 === 7 ? -3 : 0),
    {},
    { scale: -1 },
    '"scale": -1',
  ],
  [
    'retard turned once too often',
    'knock_retard',
    (_l, i) => (i % 400 === 7 ? 3 : 0),
    { scale: -1 },
    {},
    'leave out the -1',
  ],
  [
    'trims as factor',
    'short_term_fuel_trim_1',
    (_l, i) => 1 + trim(i) / 100,
    { unit: '%' },
    { unit: 'ratio' },
    '"unit": "ratio"',
  ],
  [
    'trims as share',
    'long_term_fuel_trim_1',
    (_l, i) => trim(i) / 100,
    { unit: '%' },
    { unit: 'ratio' },
    '"unit": "ratio"',
  ],
  [
    'pulse width in µs as ms',
    'injector_pulse_width',
    (l) => 1000 * pulse(l),
    { unit: 'ms' },
    { unit: 'us' },
    '"unit": "us"',
  ],
  [
    'pulse width in s as ms',
    'injector_pulse_width',
    (l) => pulse(l) / 1000,
    { unit: 'ms' },
    { unit: 's' },
    '"unit": "s"',
  ],
  ['pulse width in ms as µs', 'injector_pulse_width', pulse, { unit: 'us' }, { unit: 'ms' }, '"unit": "ms"'],
  [
    'advance after TDC',
    'spark_advance',
    (l) => -12 - 10 * Math.max(0, l),
    { unit: 'deg' },
    { unit: 'deg ATDC' },
    '"unit": "deg ATDC"',
  ],
  ['millivolts', 'battery_voltage', () => 14100, { unit: 'V' }, { unit: 'mV' }, '"unit": "mV"'],
];

describe('unitDoubts', () => {
  it.each(MISTAKES)('%s is told, with channel, column and what to change', (_, id, cell, wrong, __, says) => {
    const [told, ...more] = doubtsOf(id, cell, wrong);
    expect(more).toEqual([]);
    expect(told).toContain(`${id} ("X")`);
    expect(told).toContain(says);
    expect(told).toMatch(/\d/);
  });

  it.each(MISTAKES)('%s: as it should be, nothing is told', (_, id, cell, __, right) => {
    expect(doubtsOf(id, cell, right)).toEqual([]);
  });

  it('absolute as gauge shows at idle too, where the engine was never off', () => {
    const [told] = doubtsOf('manifold_pressure', manifold, { unit: 'kPa', reference: 'gauge' }, false);
    expect(told).toContain('near idle');
    expect(told).toContain('"reference": "absolute"');
  });

  it('a diesel that idles at air pressure is in order', () => {
    expect(
      doubtsOf('manifold_pressure', (l) => 100 + 80 * Math.max(0, l), { unit: 'kPa', reference: 'absolute' }),
    ).toEqual([]);
  });

  it('pedal in share is not told of an engine that only idled', () => {
    const csv = [
      't,RPM,X',
      ...Array.from({ length: 300 }, (_, i) => `${i * 0.1},${820 + (i % 5)},${(i % 9) / 10}`),
    ].join('\n');
    const recording = recordingOf(csv, {
      channels: { engine_speed: 'RPM', accelerator_position: { column: 'X', unit: '%' } },
    });
    expect(unitDoubts(recording)).toEqual([]);
  });
});
