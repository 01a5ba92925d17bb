import { describe, expect, it } from 'vitest';
import { channelOf, csvOf, recordingOf } from './normalise-csv.ts';

const one = (header: string, cells: readonly (string | number)[], channel: string, source: object | string) => {
  const csv = [`t,${header}`, ...cells.map((cell, i) => `${(i * 0.1).toFixed(1)},${cell}`)].join('\n');
  return recordingOf(csv, { channels: { [channel]: source } });
};

const values = (
  header: string,
  cells: readonly (string | number)[],
  channel: 'lambda',
  source: object | string = header,
) => [...channelOf(one(header, cells, channel, source), channel).values].map((v) => Number(v.toFixed(6)));

const any = values as (
  header: string,
  cells: readonly (string | number)[],
  channel: string,
  source?: object | string,
) => number[];

describe('units', () => {
  it.each([
    ['IAT [°F]', 140, 'intake_air_temperature', 60],
    ['IAT (K)', 333.15, 'intake_air_temperature', 60],
    ['IAT Â°C', 60, 'intake_air_temperature', 60],
    ['Oil_degF', 212, 'oil_temperature', 100],
    ['Speed mph', 60, 'vehicle_speed', 96.56064],
    ['MPH', 60, 'vehicle_speed', 96.56064],
    ['MAF (lb/min)', 1, 'mass_air_flow', 7.559873],
    ['MAF - kg/h', 36, 'mass_air_flow', 10],
    ['PW_us', 2500, 'injector_pulse_width', 2.5],
    ['Batt (mV)', 13500, 'battery_voltage', 13.5],
    ['AFR', 12.5, 'lambda', 0.85034],
    ['AFR 1', 14.7, 'lambda', 1],
    ['Wideband [phi]', 1.25, 'lambda', 0.8],
    ['Lambda', 0.85, 'lambda', 0.85],
    ['Baro (inHg)', 29.92, 'barometric_pressure', 101.320748],
    ['Fuel press (psi)', 43.5, 'fuel_rail_pressure', 299.921942],
    ['Retard (deg)', 3, 'knock_retard', 3],
    ['RPM x1000', 3, 'engine_speed', 3000],
  ])('%s of %d as %s', (header, raw, channel, expected) => {
    expect(any(header, [raw, raw, raw], channel)[0]).toBeCloseTo(expected, 6);
  });

  it('the units row stands above the name', () => {
    const csv = 't,IAT\ns,°F\n0,140\n0.1,140\n0.2,140';
    const recording = recordingOf(csv, { dialect: { headerRowCount: 2 }, channels: { intake_air_temperature: 'IAT' } });
    expect(channelOf(recording, 'intake_air_temperature').values[0]).toBeCloseTo(60, 9);
  });

  it('the mapping stands above the header', () => {
    expect(any('IAT (°C)', [140, 140], 'intake_air_temperature', { column: 'IAT (°C)', unit: 'degF' })[0]).toBe(60);
  });

  it('without any unit the canonical one is taken and the channel says so; a state says nothing', () => {
    expect(channelOf(one('IAT', [20, 21], 'intake_air_temperature', 'IAT'), 'intake_air_temperature').notes).toEqual([
      'No unit is stated; taken as degC.',
    ]);
    expect(channelOf(one('RPM', [900, 901], 'engine_speed', 'RPM'), 'engine_speed').notes).toEqual([]);
    expect(channelOf(one('Gear', [1, 2], 'gear', 'Gear'), 'gear').notes).toEqual([]);
  });

  it('scale and offset come before the unit', () => {
    const source = { column: 'X', scale: 2, offset: 12, unit: 'degF' };
    expect(any('X', [100, 100], 'coolant_temperature', source)).toEqual([100, 100]);
  });

  it('a header in a unit that the channel cannot have is an error, unless scale or offset lead away from it', () => {
    expect(() => one('MAP (V)', [1, 2], 'manifold_pressure', 'MAP (V)')).toThrow(
      'mapping, channels.manifold_pressure: the column "MAP (V)" is in V, which is no unit of manifold_pressure. State "unit" (kPa, bar, mbar, psi, inHg), or "scale" and "offset" that lead to kPa.',
    );
    expect(
      any('MAP (V)', [1, 2], 'manifold_pressure', { column: 'MAP (V)', scale: 60, offset: 10, reference: 'absolute' }),
    ).toEqual([70, 130]);
  });

  it('a scale beside a header unit is told, as it may convert twice', () => {
    const channel = channelOf(
      one('IAT (°F)', [20, 21], 'intake_air_temperature', { column: 'IAT (°F)', scale: 1.8, offset: 32 }),
      'intake_air_temperature',
    );
    expect(channel.values[0]).toBeCloseTo(20, 9);
    expect(channel.notes).toEqual([
      'After scale and offset the values are read as °F, as the header says; state "unit" if they are not.',
    ]);
  });
});

describe('mixture and shares', () => {
  it('AFR is divided by the stoich of the mapping, else by 14.7, and the channel says which', () => {
    const own = channelOf(one('AFR', [7.2, 7.2], 'lambda', { column: 'AFR', stoich: 9 }), 'lambda');
    expect(own.values[0]).toBeCloseTo(0.8, 12);
    expect(own.notes).toEqual(['AFR divided by 9, as the mapping says.']);
    const usual = channelOf(one('AFR', [11.76, 11.76], 'lambda', 'AFR'), 'lambda');
    expect(usual.values[0]).toBeCloseTo(0.8, 12);
    expect(usual.notes).toEqual(['AFR divided by 14.7, the usual value for petrol gauges, as none is stated.']);
  });

  it('phi of zero is no value', () => {
    expect(any('phi', [0, 1.25], 'lambda')).toEqual([0.8]);
  });

  it('a trim as a ratio is a factor around 1 or a share around 0', () => {
    expect(any('T', [0.95, 1.1], 'short_term_fuel_trim_1', { column: 'T', unit: 'ratio' })).toEqual([-5, 10]);
    expect(any('T', [-0.05, 0.1], 'short_term_fuel_trim_1', { column: 'T', unit: 'ratio' })).toEqual([-5, 10]);
    expect(any('T', [0.95, 1.1], 'short_term_fuel_trim_1', { column: 'T', unit: '%' })).toEqual([0.95, 1.1]);
  });

  it('a duty of 0…1 is a ratio only where the unit says so', () => {
    expect(any('D', [0.5, 0.9], 'injector_duty', { column: 'D', unit: 'ratio' })).toEqual([50, 90]);
    expect(any('D', [0.5, 0.9], 'injector_duty')).toEqual([0.5, 0.9]);
  });
});

describe('text in cells', () => {
  it('values of the mapping, exactly and then ignoring case', () => {
    const source = { column: 'FS', values: { CL: 2, 'open loop': 1 } };
    expect(any('FS', ['CL', 'cl', 'Open Loop', 'CL'], 'fuel_system_status', source)).toEqual([2, 2, 1, 2]);
  });

  it('values may stand for numbers in the cells too', () => {
    expect(any('FS', [0, 8, 8, 5], 'fuel_system_status', { column: 'FS', values: { 0: 1, 8: 2 } })).toEqual([
      1, 2, 2, 5,
    ]);
  });

  it('common words for the loop state, told', () => {
    const texts = [
      'CL',
      'Closed Loop',
      'OL',
      'open loop',
      'OL-Drive',
      'OL-Fault',
      'CL-Fault',
      'closed loop - sensor failure',
    ];
    const channel = channelOf(one('FS', texts, 'fuel_system_status', 'FS'), 'fuel_system_status');
    expect([...channel.values]).toEqual([2, 2, 1, 1, 4, 8, 16, 16]);
    expect(channel.notes[0]).toMatch(/^Read from text: "CL" as 2, /);
  });

  it('on and off for the lamp', () => {
    expect(any('MIL', ['On', 'off', 'YES', 'no', 'true', 'false', 1, 0], 'malfunction_lamp')).toEqual([
      1, 0, 1, 0, 1, 0, 1, 0,
    ]);
  });

  it('gears by letter', () => {
    expect(any('Gear', ['N', 'R', '1', '2nd', 'D3', 4], 'gear')).toEqual([0, -1, 1, 2, 3, 4]);
  });

  it('text that says nothing is left out and counted', () => {
    const channel = channelOf(
      one('IAT (°C)', [20, 'hot', 'hot', 'warm', 21, 22, 23, 24], 'intake_air_temperature', 'IAT (°C)'),
      'intake_air_temperature',
    );
    expect([...channel.values]).toEqual([20, 21, 22, 23, 24]);
    expect(channel.notes).toEqual(['3 cells hold text ("hot", "warm") and are left out.']);
  });
});

describe('samples', () => {
  it('blanks are dropped per channel; channels without blanks share one time array', () => {
    const csv = csvOf('t,RPM,MAP,IAT', 40, (i) => [
      i * 0.1,
      900 + i * 7,
      40 + ((i * 37) % 11),
      i % 4 === 0 ? 20 + i : '',
    ]);
    const recording = recordingOf(csv, {
      channels: {
        engine_speed: 'RPM',
        manifold_pressure: { column: 'MAP', unit: 'kPa' },
        intake_air_temperature: 'IAT',
      },
    });
    expect(channelOf(recording, 'engine_speed').time).toBe(channelOf(recording, 'manifold_pressure').time);
    const iat = channelOf(recording, 'intake_air_temperature');
    expect(iat.values).toHaveLength(10);
    expect(iat.coverage).toBe(0.25);
    expect(iat.rateHz).toBeCloseTo(2.5, 6);
  });

  it('held values are seen through, but never those of a state', () => {
    const csv = csvOf('t,A,Gear', 400, (i) => [
      (i * 0.05).toFixed(2),
      50 + 30 * Math.sin(Math.floor(i / 10)),
      1 + (Math.floor(i / 10) % 6),
    ]);
    const recording = recordingOf(csv, { channels: { throttle_position: { column: 'A', unit: '%' }, gear: 'Gear' } });
    expect(channelOf(recording, 'throttle_position').values).toHaveLength(40);
    expect(channelOf(recording, 'throttle_position').rateHz).toBeCloseTo(2, 1);
    expect(channelOf(recording, 'throttle_position').coverage).toBe(1);
    expect(channelOf(recording, 'gear').values).toHaveLength(400);
  });

  it('range, step and implausible samples are counted, nothing is clipped', () => {
    const channel = channelOf(
      one('IAT (°C)', [20, 20.5, 21, 300, -80], 'intake_air_temperature', 'IAT (°C)'),
      'intake_air_temperature',
    );
    expect(channel).toMatchObject({ min: -80, max: 300, step: 0.5, implausibleCount: 2 });
  });

  it('a dead column is told, not an error', () => {
    const recording = recordingOf('t,RPM,MAF (g/s)\n0,900,\n0.1,901,\n0.2,902,', {
      channels: { engine_speed: 'RPM', mass_air_flow: 'MAF (g/s)' },
    });
    expect(recording.channels.has('mass_air_flow')).toBe(false);
    expect(recording.notes).toContain('"MAF (g/s)" (mass_air_flow) holds no value in this log.');
  });

  it('nothing at all is an error', () => {
    expect(() => recordingOf('t,RPM\n0,\n0.1,\n0.2,', { channels: { engine_speed: 'RPM' } })).toThrow(
      'no mapped channel holds a value.',
    );
  });
});

describe('columns', () => {
  const csv = 't,RPM,Boost [psi],Boost target [psi],Latitude\n0,900,5,6,52\n0.1,901,5,6,52\n0.2,902,5,6,52';
  const boost = (column: string) =>
    channelOf(recordingOf(csv, { channels: { manifold_pressure: { column, unit: 'psig' } } }), 'manifold_pressure')
      .column;

  it.each(['Boost [psi]', 'boost [PSI]', 'BOOST[psi]', 'Boost', 'boost', 'Boost_psi'])(
    '%s finds the column',
    (name) => {
      expect(boost(name)).toBe('Boost [psi]');
    },
  );

  it('a missing column lists near names', () => {
    expect(() => boost('Bosst')).toThrow(
      'mapping, channels.manifold_pressure: the log has no column "Bosst". Did you mean "Boost [psi]"?',
    );
  });

  it('without a near name all are listed, but none that tells who or where', () => {
    expect(() => boost('Ladedruck')).toThrow(
      'the log has no column "Ladedruck". The log has "t", "RPM", "Boost [psi]", "Boost target [psi]".',
    );
    expect(() => boost('Latitud')).not.toThrow(/"Latitude"/);
  });

  it('an ambiguous column lists what it may mean', () => {
    const two = 't,Boost [psi],Boost (kPa)\n0,1,2\n1,1,2';
    expect(() => recordingOf(two, { channels: { manifold_pressure: 'boost' } })).toThrow(
      'mapping, channels.manifold_pressure: "boost" may mean 2 columns: "Boost [psi]", "Boost (kPa)". Write the name exactly as in the header.',
    );
  });

  it('a log without rows is an error', () => {
    expect(() => recordingOf('t,RPM', { channels: { engine_speed: 'RPM' } })).toThrow();
  });
});
