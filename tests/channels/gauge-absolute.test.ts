import { describe, expect, it } from 'vitest';
import { channelOf, csvOf, recordingOf } from './normalise-csv.ts';

const PSI_KPA = 6.894757293168361;

/** Key on with the engine off for 1 s, idle, then a rise; manifold pressure in kPa absolute. */
const kpaAt = (i: number, air: number) => (i < 10 ? air : i < 60 ? 35 : 35 + (i - 60) * 4);
const rpmAt = (i: number) => (i < 10 ? 0 : i < 60 ? 850 : 850 + (i - 60) * 100);
const log = (header: string, value: (i: number) => number | string, rows = 100, from = 0) =>
  csvOf(`t,RPM,${header}`, rows, (i) => [((i + from) * 0.1).toFixed(1), rpmAt(i + from), value(i + from)]);

const map = (source: object | string, more: object = {}) => ({
  channels: { engine_speed: 'RPM', manifold_pressure: source, ...more },
});

describe('where the air pressure is from', () => {
  const gauge = { column: 'Boost', unit: 'psi', reference: 'gauge' };
  const boost = log('Boost', (i) => ((kpaAt(i, 95) - 95) / PSI_KPA).toFixed(9));

  it('its own channel first, by its median', () => {
    const csv = csvOf('t,RPM,Boost,Baro', 100, (i) => [i * 0.1, 850, ((kpaAt(i, 95) - 95) / PSI_KPA).toFixed(9), 95]);
    const recording = recordingOf(csv, map(gauge, { barometric_pressure: 'Baro' }), { barometricKpa: 80 });
    expect(recording.barometric).toEqual({
      kpa: 95,
      source: 'channel',
      note: 'Air pressure 95.0 kPa, the median of the logged barometric pressure.',
    });
    expect(channelOf(recording, 'manifold_pressure').values[70]).toBeCloseTo(kpaAt(70, 95), 5);
  });

  it('not a channel that cannot be air pressure: then the next in turn, and the note says so', () => {
    const absolute = { column: 'MAP', unit: 'kPa', reference: 'absolute' };
    const withBaro = (baro: number, from: number) =>
      csvOf('t,RPM,MAP,Baro', 100, (i) => [i * 0.1, rpmAt(i + from), kpaAt(i + from, 84), baro]);
    const of = (baro: number, from: number, options = {}) =>
      recordingOf(withBaro(baro, from), map(absolute, { barometric_pressure: 'Baro' }), options).barometric;
    for (const baro of [0, 255]) {
      expect(of(baro, 0, { barometricKpa: 95 })).toMatchObject({ kpa: 84, source: 'engine-off manifold pressure' });
      expect(of(baro, 20, { barometricKpa: 95 })).toMatchObject({ kpa: 95, source: 'build sheet' });
      expect(of(baro, 20)).toMatchObject({ kpa: 101.325, source: 'standard atmosphere' });
      expect(of(baro, 20).note).toMatch(
        /^The logged barometric pressure .* is not used\. Air pressure taken as 101\.3 kPa/,
      );
    }
  });

  it('manifold pressure with the engine off', () => {
    const recording = recordingOf(
      log('MAP', (i) => kpaAt(i, 84)),
      map({ column: 'MAP', unit: 'kPa', reference: 'absolute' }),
      { barometricKpa: 99 },
    );
    expect(recording.barometric).toMatchObject({ kpa: 84, source: 'engine-off manifold pressure' });
    expect(recording.barometric.note).toBe('Air pressure 84.0 kPa, from manifold pressure with the engine off.');
  });

  it('not an engine-off reading that no air pressure could be', () => {
    const recording = recordingOf(
      log('MAP', (i) => kpaAt(i, 30)),
      map({ column: 'MAP', unit: 'kPa', reference: 'absolute' }),
    );
    expect(recording.barometric.source).toBe('standard atmosphere');
  });

  it('the build sheet', () => {
    const recording = recordingOf(boost, map(gauge), { barometricKpa: 95, barometricFrom: 'ambient.altitude 540 m' });
    expect(recording.barometric).toEqual({
      kpa: 95,
      source: 'build sheet',
      note: 'Air pressure 95.0 kPa, from the build sheet (ambient.altitude 540 m).',
    });
    expect(channelOf(recording, 'manifold_pressure').values[99]).toBeCloseTo(kpaAt(99, 95), 5);
  });

  it('the standard atmosphere, and says that nothing told', () => {
    const recording = recordingOf(boost, map(gauge));
    expect(recording.barometric.kpa).toBe(101.325);
    expect(recording.barometric.note).toMatch(/^Air pressure taken as 101.3 kPa \(standard atmosphere at sea level\)/);
    expect(channelOf(recording, 'manifold_pressure').values[99]).toBeCloseTo(kpaAt(99, 95) - 95 + 101.325, 5);
  });

  it('a barometric channel that moves is added sample by sample', () => {
    const csv = csvOf('t,RPM,Boost,Baro', 100, (i) => [i * 0.1, 2000, 10, 100 - i * 0.1]);
    const recording = recordingOf(
      csv,
      map({ column: 'Boost', unit: 'kPa', reference: 'gauge' }, { barometric_pressure: 'Baro' }),
    );
    const { values } = channelOf(recording, 'manifold_pressure');
    expect(values[0]).toBeCloseTo(110, 9);
    expect(values[99]).toBeCloseTo(100.1, 9);
  });
});

describe('gauge or absolute', () => {
  it.each([
    ['psig', 'gauge'],
    ['psia', 'absolute'],
  ])('the unit %s says %s', (unit, reference) => {
    const recording = recordingOf(
      log('P', () => 10),
      map({ column: 'P', unit }),
    );
    const expected = 10 * PSI_KPA + (reference === 'gauge' ? 101.325 : 0);
    expect(channelOf(recording, 'manifold_pressure').values[0]).toBeCloseTo(expected, 9);
  });

  it('the name says it', () => {
    const recording = recordingOf(
      log('Manifold Absolute Pressure (bar)', () => 0.5),
      map('Manifold Absolute Pressure (bar)'),
    );
    expect(channelOf(recording, 'manifold_pressure').values[0]).toBe(50);
  });

  it('values below zero cannot be absolute, and the report says so', () => {
    const recording = recordingOf(
      log('Boost (psi)', (i) => ((kpaAt(i, 101.325) - 101.325) / PSI_KPA).toFixed(6)),
      map('Boost (psi)'),
    );
    const channel = channelOf(recording, 'manifold_pressure');
    expect(channel.values[30]).toBeCloseTo(35, 3);
    expect(channel.notes.join()).toMatch(/Taken as gauge: values go down to -66\.3 kPa/);
  });

  it('air pressure with the engine off proves absolute', () => {
    const recording = recordingOf(
      log('Boost (bar)', (i) => (kpaAt(i, 98) / 100).toFixed(3)),
      map('Boost (bar)'),
    );
    expect(channelOf(recording, 'manifold_pressure').notes).toContain(
      'Taken as absolute: 98.0 kPa with the engine off is air pressure.',
    );
    expect(recording.barometric.kpa).toBeCloseTo(98, 9);
  });

  it('vacuum at idle proves absolute', () => {
    const recording = recordingOf(
      log('Boost (bar)', (i) => (kpaAt(i, 98) / 100).toFixed(3), 80, 20),
      map('Boost (bar)'),
    );
    expect(channelOf(recording, 'manifold_pressure').notes).toContain(
      'Taken as absolute: 35.0 kPa near idle is no boost.',
    );
  });

  it('where nothing tells, kPa is absolute with a note, as in SAE J1979', () => {
    const recording = recordingOf(
      csvOf('t,RPM,X', 30, (i) => [i * 0.1, 4000 + i, 120 + i]),
      map({ column: 'X', unit: 'kPa' }),
    );
    const channel = channelOf(recording, 'manifold_pressure');
    expect(channel.values[0]).toBe(120);
    expect(channel.notes).toContain('No reference is stated; taken as absolute.');
  });

  it('where nothing tells, psi is left out and the report says how to map it', () => {
    const recording = recordingOf(
      csvOf('t,RPM,X', 30, (i) => [i * 0.1, 4000 + i, 12 + i * 0.1]),
      map({ column: 'X', unit: 'psi' }),
    );
    expect(recording.channels.has('manifold_pressure')).toBe(false);
    expect(recording.notes.join()).toContain(
      '"X" may be gauge or absolute and the log does not tell; manifold_pressure is left out. State "reference" in the mapping.',
    );
  });

  it('a stated reference that the values contradict is kept and doubted', () => {
    const recording = recordingOf(
      log('X', (i) => kpaAt(i, 98)),
      map({ column: 'X', unit: 'kPa', reference: 'gauge' }),
    );
    expect(channelOf(recording, 'manifold_pressure').notes.join()).toContain(
      'Read as gauge as stated, but the values look absolute.',
    );
  });

  it('the target follows manifold pressure', () => {
    const csv = csvOf('t,RPM,MAP,Want', 30, (i) => [i * 0.1, 4000, 50 + i, 60]);
    const mapping = map(
      { column: 'MAP', unit: 'kPa', reference: 'gauge' },
      { manifold_pressure_target: { column: 'Want', unit: 'kPa' } },
    );
    const target = channelOf(recordingOf(csv, mapping), 'manifold_pressure_target');
    expect(target.values[0]).toBeCloseTo(161.325, 9);
    expect(target.notes).toContain('Taken as gauge, as manifold pressure is.');
  });

  it('fuel rail pressure travels as gauge: absolute readings lose the air pressure', () => {
    const csv = csvOf('t,RPM,FRP', 30, (i) => [i * 0.1, 900, 400]);
    const rail = (source: object) =>
      channelOf(
        recordingOf(csv, { channels: { engine_speed: 'RPM', fuel_rail_pressure: source } }),
        'fuel_rail_pressure',
      );
    expect(rail({ column: 'FRP', unit: 'kPa', reference: 'absolute' }).values[0]).toBeCloseTo(298.675, 9);
    expect(rail({ column: 'FRP', unit: 'kPa' }).values[0]).toBe(400);
    expect(rail({ column: 'FRP', unit: 'kPa' }).notes).toContain('No reference is stated; taken as gauge.');
  });
});
