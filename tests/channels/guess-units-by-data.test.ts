import { describe, expect, it } from 'vitest';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { guessMapping } from '../../src/channels/guess-mapping.ts';
import { csvOf, tableOf } from './normalise-csv.ts';

/** A drive of 120 s at 10 Hz: engine off, idle, cruise, a pull; `level` runs from 0 (idle) to 1 (full load), -1 with the engine off. */
function driven(header: string, cell: (level: number, i: number) => number | string, keyOn = true) {
  const rows = csvOf(`Time (s),RPM,${header}`, 1200, (i) => {
    const off = keyOn && i < 60;
    const level = off ? -1 : i < 300 ? 0 : i < 900 ? 0.4 : Math.min(1, (i - 900) / 100);
    const rpm = off ? 0 : i < 300 ? 820 + (i % 7) : i < 900 ? 2400 + (i % 11) : Math.min(6800, 2500 + (i - 900) * 20);
    return [(i * 0.1).toFixed(1), rpm, cell(level, i)];
  });
  return guessMapping(tableOf(rows));
}

const sourceOf = (header: string, id: ChannelId, cell: (level: number, i: number) => number | string, keyOn = true) =>
  driven(header, cell, keyOn).mapping.channels[id];

/** kPa absolute: air pressure, idle at 33, boost to 185. */
const manifoldKpa = (level: number) => (level < 0 ? 99.5 : 33 + 152 * level);

const PRESSURES = [
  ['kPa', 1, 0],
  ['mbar', 10, 0],
  ['bar', 0.01, 0],
  ['psi', 1 / 6.894757, 0],
  ['kPa', 1, 99.5],
  ['mbar', 10, 99.5],
  ['bar', 0.01, 99.5],
  ['psi', 1 / 6.894757, 99.5],
] as const;

describe('manifold pressure without a unit', () => {
  // Factors by NIST SP 811, appendix B: 1 psi = 6.894757 kPa, 1 bar = 100 kPa.
  it.each(PRESSURES)(
    'is read as %s (factor %d, %d off) where the log shows off, idle and boost',
    (unit, factor, off) => {
      const cell = (level: number) => ((manifoldKpa(level) - off) * factor).toFixed(3);
      const reference = off === 0 ? 'absolute' : 'gauge';
      for (const keyOn of [true, false]) {
        expect(sourceOf('MAP', 'manifold_pressure', cell, keyOn)).toMatchObject({ unit, reference });
      }
    },
  );

  it('stays open where nothing but a pull was logged', () => {
    const csv = csvOf('Time (s),RPM,Boost', 200, (i) => [i * 0.1, 3000 + i * 15, 12 + (i % 5) * 0.1]);
    const { mapping, questions } = guessMapping(tableOf(csv));
    expect(mapping.channels.manifold_pressure).toBeUndefined();
    expect(questions.map(({ ask }) => ask).join()).toContain('manifold_pressure is left out');
  });

  it('its target follows it', () => {
    const psi = (kpa: number) => ((kpa - 99.5) / 6.894757).toFixed(2);
    const { mapping } = driven('Boost,Boost target', (level) => `${psi(manifoldKpa(level))},${psi(185)}`);
    expect(mapping.channels.manifold_pressure_target).toMatchObject({ unit: 'psi', reference: 'gauge' });
  });
});

describe('manifold pressure by behaviour', () => {
  const psiGauge = (level: number) => ((manifoldKpa(level) - 99.5) / 6.894757).toFixed(2);

  it('is guessed under any name where the header says psi', () => {
    const guessed = driven('Port 7 (psi)', psiGauge);
    expect(guessed.mapping.channels.manifold_pressure).toMatchObject({
      column: 'Port 7 (psi)',
      unit: 'psi',
      reference: 'gauge',
    });
    expect(guessed.guesses.find(({ channel }) => channel === 'manifold_pressure')?.why).toContain(
      'with the engine off',
    );
  });

  it('is asked about where there is no unit either', () => {
    const { mapping, questions } = driven('Port 7', psiGauge);
    expect(mapping.channels.manifold_pressure).toBeUndefined();
    expect(questions.map(({ ask }) => ask).join()).toContain('behaves like manifold pressure in psi gauge');
  });

  it('is not seen in oil pressure, which rises with engine speed and rests at zero', () => {
    const { mapping } = driven('Port 7 (psi)', (level) => (level < 0 ? 0 : 22 + 40 * level));
    expect(mapping.channels.manifold_pressure).toBeUndefined();
  });

  it('is not seen in a vacuum reservoir, which never shows boost', () => {
    const { mapping } = driven('Port 7 (psi)', (level) => (level < 0 ? 0 : -9.5 - level));
    expect(mapping.channels.manifold_pressure).toBeUndefined();
  });
});

describe('other units by the numbers', () => {
  it.each([
    ['ECT', 'coolant_temperature', (_l: number, i: number) => Math.min(90, 60 + i / 10), 'degC'],
    ['ECT', 'coolant_temperature', (_l: number, i: number) => Math.min(194, 140 + i / 5), 'degF'],
    ['ECT', 'coolant_temperature', (_l: number, i: number) => Math.min(363, 333 + i / 10), 'K'],
    ['TPS', 'throttle_position', (l: number) => Math.max(0, l).toFixed(3), 'ratio'],
    ['TPS', 'throttle_position', (l: number) => (100 * Math.max(0, l)).toFixed(1), '%'],
    ['IDC', 'injector_duty', (l: number) => (0.02 + 0.8 * Math.max(0, l)).toFixed(3), 'ratio'],
    ['STFT1', 'short_term_fuel_trim_1', (_l: number, i: number) => (1.02 + 0.001 * (i % 17)).toFixed(3), 'ratio'],
    ['STFT1', 'short_term_fuel_trim_1', (_l: number, i: number) => (0.02 + 0.002 * (i % 17)).toFixed(3), 'ratio'],
    ['STFT1', 'short_term_fuel_trim_1', (_l: number, i: number) => ((i % 17) * 0.4 - 3).toFixed(2), '%'],
    ['PW', 'injector_pulse_width', (l: number) => (2.1 + 14 * Math.max(0, l)).toFixed(3), 'ms'],
    ['PW', 'injector_pulse_width', (l: number) => (2100 + 14000 * Math.max(0, l)).toFixed(0), 'us'],
    ['PW', 'injector_pulse_width', (l: number) => (0.0021 + 0.014 * Math.max(0, l)).toFixed(6), 's'],
    ['Baro', 'barometric_pressure', () => 1004, 'mbar'],
    ['Baro', 'barometric_pressure', () => 14.6, 'psi'],
    ['Baro', 'barometric_pressure', () => 29.7, 'inHg'],
    ['Fuel pressure', 'fuel_rail_pressure', (l: number) => 43 + 12 * Math.max(0, l), 'psi'],
    ['Fuel pressure', 'fuel_rail_pressure', (l: number) => 3 + 0.8 * Math.max(0, l), 'bar'],
    ['Rail', 'fuel_rail_pressure', (l: number) => 3000 + 800 * Math.max(0, l), 'mbar'],
    ['Wideband', 'lambda', (l: number, i: number) => (i % 40 === 0 ? 29 : l > 0.9 ? 12.1 : 14.7), 'AFR'],
  ] as const)('%s (%s) reads as its values say, %#', (header, id, cell, unit) => {
    expect(sourceOf(header, id, cell)).toMatchObject({ unit });
  });

  it.each([
    ['ECT', 'coolant_temperature', (_l: number, i: number) => 70 + i / 30],
    ['MAF', 'mass_air_flow', (l: number) => 3 + 200 * Math.max(0, l)],
    ['Fuel pressure', 'fuel_rail_pressure', (l: number) => 50 + 120 * Math.max(0, l)],
    ['STFT1', 'short_term_fuel_trim_1', () => 0.6],
    ['Oil temp', 'oil_temperature', () => 95],
  ] as const)('%s (%s) stays open where its values could be in several, %#', (header, id, cell) => {
    expect(sourceOf(header, id, cell)).toBeUndefined();
  });

  it('temperatures without a unit follow the coolant, and road speed follows them', () => {
    const { mapping } = driven(
      'ECT,IAT,Speed',
      (level, i) => `${Math.min(194, 140 + i / 5)},95,${60 * Math.max(0, level)}`,
    );
    expect(mapping.channels.intake_air_temperature).toMatchObject({ unit: 'degF' });
    expect(mapping.channels.vehicle_speed).toMatchObject({ unit: 'mph' });
  });

  it('a name that says lambda over an air-fuel ratio is read by its values, and the other way round', () => {
    expect(sourceOf('Lambda', 'lambda', (l) => (l > 0.9 ? 12.1 : 14.7))).toMatchObject({ unit: 'AFR' });
    expect(sourceOf('AFR', 'lambda', (l) => (l > 0.9 ? 0.82 : 1))).toMatchObject({ unit: 'lambda' });
    expect(sourceOf('AFR', 'lambda', (l) => (l > 0.9 ? 12.1 : 14.7))).toEqual({ column: 'AFR' });
  });

  it('a lamp that is only on or off is the malfunction lamp, and that is told', () => {
    const { mapping, notes } = driven('Lamp', () => 0);
    expect(mapping.channels.malfunction_lamp).toEqual({ column: 'Lamp' });
    expect(notes.join()).toContain('"Lamp" is taken as the malfunction lamp');
    expect(sourceOf('Lamp', 'malfunction_lamp', (_l, i) => i % 5)).toBeUndefined();
  });

  it('a hot CAT is the catalyst', () => {
    expect(sourceOf('CAT (°C)', 'charge_air_temperature', () => 45)).toBeDefined();
    const { mapping, questions } = driven('CAT (°C)', () => 620);
    expect(mapping.channels.charge_air_temperature).toBeUndefined();
    expect(questions.map(({ ask }) => ask).join()).toContain('may be the catalyst');
  });
});

describe('a correction that may be retard', () => {
  it('is retard where it seldom moves and only one way', () => {
    const cell = (_l: number, i: number) => (i % 97 === 0 ? -2.5 : 0);
    expect(sourceOf('Timing correction (deg)', 'knock_retard', cell)).toMatchObject({ scale: -1 });
  });

  it.each([
    ['never moves', () => 0],
    ['moves all the time', (_l: number, i: number) => 0.5 + (i % 5)],
  ] as const)('is a question where it %s', (_, cell) => {
    const { mapping, questions } = driven('Timing correction (deg)', cell);
    expect(mapping.channels.knock_retard).toBeUndefined();
    expect(questions.map(({ ask }) => ask).join()).toContain('may be knock retard or another correction');
  });
});
