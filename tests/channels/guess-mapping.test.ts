import { describe, expect, it } from 'vitest';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { guessMapping } from '../../src/channels/guess-mapping.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { csvOf, tableOf } from './normalise-csv.ts';

const guess = (csv: string) => guessMapping(tableOf(csv));

/** Guesses for one column beside time and a plain engine speed that idles. */
function guessOne(header: string, value: (i: number) => number | string) {
  return guess(csvOf(`Time (s),RPM,${header}`, 60, (i) => [(i * 0.1).toFixed(1), 800 + (i % 7), value(i)]));
}

const sourceOf = (header: string, id: ChannelId, value: (i: number) => number | string) =>
  guessOne(header, value).mapping.channels[id];

describe('guessMapping by name', () => {
  it.each([
    ['Vehicle Speed (km/h)', 'vehicle_speed', 50],
    ['VSS [mph]', 'vehicle_speed', 50],
    ['Throttle Position (%)', 'throttle_position', 30],
    ['TPS %', 'throttle_position', 30],
    ['Drosselklappe [%]', 'throttle_position', 30],
    ['Accelerator Pedal Position (%)', 'accelerator_position', 30],
    ['APP_D %', 'accelerator_position', 30],
    ['BARO (kPa)', 'barometric_pressure', 99],
    ['IAT (°C)', 'intake_air_temperature', 30],
    ['Charge Air Temp (°C)', 'charge_air_temperature', 40],
    ['ECT (°C)', 'coolant_temperature', 90],
    ['Kühlmitteltemperatur [°C]', 'coolant_temperature', 90],
    ['EOT (°C)', 'oil_temperature', 90],
    ['EGT (°C)', 'exhaust_gas_temperature', 700],
    ['MAF (g/s)', 'mass_air_flow', 9],
    ['LOAD_PCT (%)', 'calculated_load', 40],
    ['LOAD_ABS (%)', 'absolute_load', 140],
    ['SHRTFT1 (%)', 'short_term_fuel_trim_1', 2],
    ['STFT B2 (%)', 'short_term_fuel_trim_2', 2],
    ['Long Term Fuel Trim Bank 1 (%)', 'long_term_fuel_trim_1', 2],
    ['LONGFT2 (%)', 'long_term_fuel_trim_2', 2],
    ['Fuel System Status', 'fuel_system_status', 2],
    ['FRP (kPa)', 'fuel_rail_pressure', 300],
    ['Injector Pulse Width (ms)', 'injector_pulse_width', 3],
    ['Injector Duty Cycle (%)', 'injector_duty', 30],
    ['Ethanol Content (%)', 'ethanol_content', 10],
    ['Lambda 1', 'lambda', 0.9],
    ['AFR', 'lambda', 12.5],
    ['AFR Target', 'lambda_target', 12.5],
    ['EQ_RAT', 'lambda_target', 1],
    ['Ignition Timing (deg)', 'spark_advance', 15],
    ['Zündwinkel (°)', 'spark_advance', 15],
    ['Wastegate Duty (%)', 'wastegate_duty', 30],
    ['Battery Voltage (V)', 'battery_voltage', 14],
    ['Gear', 'gear', 3],
    ['MIL', 'malfunction_lamp', 0],
    ['Misfire Count', 'misfire_count', 0],
    ['Knock Retard Cyl 3 (deg)', 'knock_retard_3', 2],
  ] as const)('%s is %s', (header, id, value) => {
    expect(sourceOf(header, id, () => value)).toMatchObject({ column: header });
  });

  it.each([
    'Throttle Target (%)',
    'RPM Limit (rpm)',
    'MAP Voltage (V)',
    'MAF (V)',
    'Turbo Speed (rpm)',
    'Boost Error (kPa)',
    'Cooling fan (%)',
    'Wheel Speed FL (km/h)',
  ])('%s is nothing by itself', (header) => {
    expect(Object.keys(guessOne(header, () => 80).mapping.channels)).toEqual(['engine_speed']);
  });

  it('says how sure it is of each guess and why', () => {
    const { guesses } = guessOne('MAF (g/s)', () => 10);
    expect(guesses.map((g) => g.channel)).toEqual(expect.arrayContaining(['time', 'engine_speed', 'mass_air_flow']));
    expect(guesses.find((g) => g.channel === 'mass_air_flow')).toMatchObject({
      column: 'MAF (g/s)',
      why: 'its name, and the header says g/s',
    });
    for (const g of guesses) expect(g.confidence).toBeGreaterThan(0);
  });

  it('never names a personal column', () => {
    const csv = csvOf('Time (s),RPM,GPS Latitude,Driver Name,VIN', 30, (i) => [i * 0.1, 900 + i, 52.1, 'x', 'y']);
    expect(JSON.stringify(guess(csv))).not.toMatch(/Latitude|Driver|VIN/);
  });
});

describe('guessMapping where a wrong guess would hide a fault', () => {
  const idleThen = (low: number, high: number) => (i: number) => (i < 50 ? low : high);

  it('takes boost in psi as gauge or absolute only where the log shows it', () => {
    expect(sourceOf('Boost (psi)', 'manifold_pressure', idleThen(-9, 12))).toBeDefined();
    expect(sourceOf('Boost (psi)', 'manifold_pressure', idleThen(5, 27))).toBeDefined();
    const undecided = guess(csvOf('Time (s),RPM,Boost (psi)', 60, (i) => [i * 0.1, 3000 + i * 50, 10 + i / 10]));
    expect(undecided.mapping.channels.manifold_pressure).toBeUndefined();
    expect(undecided.notes.join()).toContain(
      '"Boost (psi)" may be gauge or absolute and neither its header nor the log tells; manifold_pressure is left out. Map it with "reference".',
    );
  });

  it('kPa called boost proves nothing, kPa called MAP is absolute', () => {
    const pull = (header: string) =>
      guess(csvOf(`Time (s),RPM,${header}`, 60, (i) => [i * 0.1, 3000 + i * 50, 60 + i]));
    expect(pull('Boost (kPa)').mapping.channels.manifold_pressure).toBeUndefined();
    expect(pull('MAP (kPa)').mapping.channels.manifold_pressure).toBeDefined();
    expect(pull('Boost (kPa gauge)').mapping.channels.manifold_pressure).toBeDefined();
  });

  it('turns retard that is logged below zero, and leaves out what goes both ways', () => {
    expect(sourceOf('Knock Retard (deg)', 'knock_retard', (i) => -(i % 3))).toMatchObject({ scale: -1 });
    expect(sourceOf('Knock Retard (deg)', 'knock_retard', (i) => i % 3)).not.toHaveProperty('scale');
    const both = guessOne('Knock Retard (deg)', (i) => (i % 3) - 1);
    expect(both.mapping.channels.knock_retard).toBeUndefined();
    expect(both.notes.join()).toContain('which way is retard is not guessed');
  });

  it.each([
    ['MAP', 'manifold_pressure', 0.9],
    ['MAP', 'manifold_pressure', 12],
    ['MAF', 'mass_air_flow', 12],
    ['Injector Duty', 'injector_duty', 0.4],
    ['STFT', 'short_term_fuel_trim_1', 1.02],
    ['Fuel Pressure', 'fuel_rail_pressure', 43],
  ] as const)('%s without a unit at %d is left out', (header, id, value) => {
    const { mapping, notes } = guessOne(header, () => value);
    expect(mapping.channels[id]).toBeUndefined();
    expect(notes.join()).toContain(`${id} is left out. State its unit in a mapping.`);
  });

  it('an air-fuel ratio shows by its size', () => {
    expect(sourceOf('Wideband', 'lambda', () => 12.4)).toEqual({ column: 'Wideband', unit: 'AFR' });
  });
});

describe('guessMapping of time', () => {
  it.each([
    ['Time (ms)', 100, 'ms'],
    ['Time', 0.1, 's'],
    ['Zeit', 50, 'ms'],
    ['time', 100000, 'us'],
    ['Elapsed Time (s)', 0.1, 's'],
  ])('%s in steps of %d is %s', (header, step, unit) => {
    const { mapping } = guess(csvOf(`${header},RPM,Gear`, 30, (i) => [Number((i * step).toFixed(3)), 900 + i, 1]));
    expect(mapping.time).toEqual({ column: header, unit });
  });

  it('clock cells are a clock', () => {
    const { mapping } = guess(csvOf('Zeit,RPM', 30, (i) => [`10:00:${String(i).padStart(2, '0')}`, 900 + i]));
    expect(mapping.time).toEqual({ column: 'Zeit', unit: 'clock' });
  });

  it('no time and no channel are errors that say what to do', () => {
    expect(() => guess(csvOf('foo,RPM', 30, (i) => [i % 3, 900]))).toThrow(
      'no column looks like time. Write a mapping with "time"',
    );
    expect(() => guess(csvOf('time,foo', 30, (i) => [i, 900]))).toThrow('no column could be recognised as a channel.');
  });

  it('what is guessed can be normalised', () => {
    const table = tableOf(
      csvOf('Time (s),RPM,Boost (psi),AFR', 60, (i) => [i * 0.1, 800 + i * 10, -9 + i * 0.4, 12.5]),
    );
    const recording = normalise(table, guessMapping(table).mapping);
    expect([...recording.channels.keys()].sort()).toEqual(['engine_speed', 'lambda', 'manifold_pressure']);
  });
});
