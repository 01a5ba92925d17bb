import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mendTime } from '../../src/channels/mend-time.ts';
import { channelOf, recordingOf } from './normalise-csv.ts';

const times = (cells: readonly (string | number)[], unit?: string, header = 't') => {
  const csv = [`${header},RPM`, ...cells.map((cell, i) => `${cell},${900 + i}`)].join('\n');
  const time = unit === undefined ? { column: header } : { column: header, unit };
  const recording = recordingOf(csv, { time, channels: { engine_speed: 'RPM' } });
  return {
    recording,
    time: [...channelOf(recording, 'engine_speed').time].map((t) => Number(t.toFixed(6))),
    notes: recording.notes.join(' '),
  };
};

describe('time units', () => {
  it.each([
    ['s', [10, 10.1, 10.2, 10.3]],
    ['ms', [10000, 10100, 10200, 10300]],
    ['us', [1e7, 1.01e7, 1.02e7, 1.03e7]],
    ['min', [1, 1 + 0.1 / 60, 1 + 0.2 / 60, 1 + 0.3 / 60]],
    ['clock', ['08:00:10.0', '08:00:10.1', '08:00:10.2', '08:00:10.3']],
    [
      'iso8601',
      ['2024-05-01T08:00:10.0Z', '2024-05-01T08:00:10.1Z', '2024-05-01T08:00:10.2Z', '2024-05-01T08:00:10.3Z'],
    ],
    ['epoch_s', [1714550410, 1714550410.1, 1714550410.2, 1714550410.3]],
    ['epoch_ms', [1714550410000, 1714550410100, 1714550410200, 1714550410300]],
  ])('%s', (unit, cells) => {
    const { time, recording } = times(cells, unit);
    expect(time).toEqual([0, 0.1, 0.2, 0.3]);
    expect(recording.durationS).toBeCloseTo(0.3, 6);
    expect(recording.segments).toHaveLength(1);
  });

  it('a clock passes midnight', () => {
    const { time, recording } = times(['23:59:59.8', '23:59:59.9', '00:00:00.0', '00:00:00.1'], 'clock');
    expect(time).toEqual([0, 0.1, 0.2, 0.3]);
    expect(recording.segments).toHaveLength(1);
  });

  it('a clock that goes back by minutes has not passed midnight', () => {
    const { recording } = times(['10:00:00', '10:00:01', '09:58:00', '09:58:01', '09:58:02'], 'clock');
    expect(recording.segments).toHaveLength(2);
  });

  it('a rate stands in for a time column', () => {
    const recording = recordingOf('RPM,X\n900,1\n901,1\n902,1', {
      time: { rate: 20 },
      channels: { engine_speed: 'RPM' },
    });
    expect([...channelOf(recording, 'engine_speed').time]).toEqual([0, 0.05, 0.1]);
    expect(recording.notes[0]).toBe(
      'The log has no time column; its rows are taken as 20 a second, as the mapping says.',
    );
  });

  it('a unit left out is read from the header, else from the cells, else seconds with a note', () => {
    expect(times([0, 100, 200], undefined, 'Time (ms)').time).toEqual([0, 0.1, 0.2]);
    expect(times(['08:00:00', '08:00:01', '08:00:02'], undefined, 'Time').time).toEqual([0, 1, 2]);
    expect(times([0, 100, 200], undefined, 'Time').notes).toContain(
      'The time column "Time" states no unit; taken as seconds.',
    );
  });

  it('doubts a unit that puts rows far apart', () => {
    expect(times([0, 50, 100, 150], 's').notes).toContain(
      'Rows lie 50 s apart, which is unusual; check the unit of time in the mapping.',
    );
    expect(times([0, 0.05, 0.1, 0.15], 'ms').notes).toContain('Rows lie 0.00005 s apart');
  });

  it('says where the clock started', () => {
    expect(times([3.5, 3.6, 3.7], 's').notes).toContain(
      'The log’s clock starts at 3.5 s; times here count from the first row.',
    );
    expect(times(['08:01:02', '08:01:03', '08:01:04'], 'clock').notes).toContain('The log’s clock starts at 08:01:02;');
    expect(times([0, 0.1, 0.2], 's').notes).not.toContain('clock starts');
  });

  it('a date is not repeated in the report', () => {
    expect(
      times(['2024-05-01T08:00:10Z', '2024-05-01T08:00:11Z', '2024-05-01T08:00:12Z'], 'iso8601').notes,
    ).not.toMatch(/2024|1714/);
  });

  it('cells decide where the mapping says seconds but they are clock times', () => {
    const { time, notes } = times(['08:00:00', '08:00:01', '08:00:02'], 's');
    expect(time).toEqual([0, 1, 2]);
    expect(notes).toContain('The time column "t" holds hh:mm:ss, not s; it is read as it stands.');
  });

  it.each([
    [
      'clock',
      [1, 2, 3],
      'mapping, time.unit: the time column "t" holds numbers, not hh:mm:ss. Use "s" or "ms" for plain numbers.',
    ],
    ['iso8601', [1, 2, 3], 'the time column "t" holds numbers, not dates and times'],
    [
      's',
      ['a', 'b', 'c'],
      'mapping, time.column: the time column "t" holds no times. Name the column that holds the time of each row.',
    ],
    ['s', [5, 5, 5], 'time: the time never moves forward. Check that the mapping names the right time column.'],
    ['s', [5, 4, 3], 'the time never moves forward.'],
    ['s', [5], 'time: the log has a time in one row only.'],
  ])('%s of %o is refused', (unit, cells, message) => {
    expect(() => times(cells, unit)).toThrow(message);
  });

  it('one row by rate is refused', () => {
    expect(() => recordingOf('RPM,X\n900,1', { time: { rate: 20 }, channels: { engine_speed: 'RPM' } })).toThrow(
      'the log has one row only.',
    );
  });

  it('rows without a time are left out and counted', () => {
    const { time, notes } = times([0, '', 0.2, 0.3], 's');
    expect(time).toEqual([0, 0.2, 0.3]);
    expect(notes).toContain('1 row without a time is left out.');
  });
});

describe('a clock that misbehaves', () => {
  it('stamps of whole seconds over four rows are 0.25 s apart', () => {
    const { time, notes } = times([0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2], 's');
    expect(time).toEqual([0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 2.75]);
    expect(notes).toContain('9 rows with the time of the row before; spread evenly up to the next time.');
  });

  it('a log that begins and ends within a second keeps the pace', () => {
    const { time } = times([0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4], 's');
    const steps = time.slice(1).map((t, i) => Number((t - time[i]).toFixed(6)));
    expect(new Set(steps)).toEqual(new Set([0.25]));
  });

  it('a little backwards is jitter', () => {
    const { recording, notes } = times([0, 0.1, 0.2, 0.35, 0.3, 0.4, 0.5], 's');
    expect(recording.segments).toHaveLength(1);
    expect(notes).toContain('Time steps back a little at 1 row;');
  });

  it('a real step back opens a new stretch and time goes on', () => {
    const { time, recording, notes } = times([5, 5.1, 5.2, 0, 0.1, 0.2], 's');
    expect(time).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5]);
    expect(recording.segments.map((s) => [s.startS, s.endS].map((t) => Number(t.toFixed(6))))).toEqual([
      [0, 0.2],
      [0.3, 0.5],
    ]);
    expect(notes).toContain('Time goes back by 5.20 s at row 4; the log goes on from there as a new stretch.');
  });

  it('a gap opens a new stretch, more than a second and ten steps long', () => {
    const { recording, notes } = times([0, 0.1, 0.2, 9, 9.1, 9.2], 's');
    expect(recording.segments).toHaveLength(2);
    expect(notes).toContain('Time jumps ahead by 8.80 s at row 4; nothing is judged across the gap.');
    expect(times([0, 0.1, 0.2, 1.2, 1.3], 's').recording.segments).toHaveLength(1);
    expect(times([0, 0.1, 0.2, 1.25, 1.35], 's').recording.segments).toHaveLength(2);
    expect(times([0, 1, 2, 3, 12, 13], 's').recording.segments).toHaveLength(1);
  });

  it('one stray stamp does not tear the log apart', () => {
    const { time, recording, notes } = times([0, 0.1, 0.2, 500, 0.4, 0.5], 's');
    expect(time).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5]);
    expect(recording.segments).toHaveLength(1);
    expect(notes).toContain('The time of 1 row fits neither neighbour;');
  });

  it('always strictly increases, one time per row, inside its segments', () => {
    const step = fc.oneof(
      { weight: 8, arbitrary: fc.constantFrom(0.05, 0.1) },
      { weight: 2, arbitrary: fc.constantFrom(0, -0.05) },
      { weight: 1, arbitrary: fc.constantFrom(-100, 30, -3) },
    );
    fc.assert(
      fc.property(fc.array(step, { minLength: 5, maxLength: 60 }), (steps) => {
        const raw = new Float64Array(steps.length + 1).fill(100);
        for (const [i, s] of steps.entries()) raw[i + 1] = Math.round((raw[i] + s) * 1000) / 1000;
        if (!raw.some((v, i) => i > 0 && v > raw[i - 1])) return;
        const { time, segments } = mendTime(raw);
        expect(time).toHaveLength(raw.length);
        for (let i = 1; i < time.length; i++) expect(time[i]).toBeGreaterThan(time[i - 1]);
        for (const t of time) expect(segments.some((s) => t >= s.startS && t <= s.endS)).toBe(true);
        expect(segments.at(-1)?.endS).toBe(time[time.length - 1]);
      }),
      { numRuns: 300 },
    );
  });
});

describe('a channel with its own time column', () => {
  const csv = [
    't (ms),RPM,MAP,MAP t (ms)',
    '1000,900,50,1010',
    '1050,901,50,1010',
    '1100,902,52,1110',
    '1150,903,52,1110',
    '1200,904,54,1210',
  ].join('\n');
  const mapping = {
    time: { column: 't (ms)', unit: 'ms' },
    channels: {
      engine_speed: 'RPM',
      manifold_pressure: { column: 'MAP', unit: 'kPa', reference: 'absolute', time: 'MAP t (ms)' },
    },
  };

  it('keeps its own instants on the log’s clock, each sample once', () => {
    const map = channelOf(recordingOf(csv, mapping), 'manifold_pressure');
    expect([...map.time].map((t) => Number(t.toFixed(6)))).toEqual([0.01, 0.11, 0.21]);
    expect([...map.values]).toEqual([50, 52, 54]);
  });

  it('a missing one is an error at its key', () => {
    const wrong = { ...mapping, channels: { manifold_pressure: { column: 'MAP', unit: 'kPa', time: 'MAP tm' } } };
    expect(() => recordingOf(csv, wrong)).toThrow(
      'mapping, channels.manifold_pressure.time: the log has no column "MAP tm". Did you mean "MAP" or "MAP t (ms)"?',
    );
  });

  it('one that never moves is an error at its key', () => {
    const still = ['t,RPM,MAP,mt', '0,900,50,1', '0.1,901,51,1', '0.2,902,52,1'].join('\n');
    const channels = { manifold_pressure: { column: 'MAP', unit: 'kPa', time: 'mt' } };
    expect(() => recordingOf(still, { channels })).toThrow(
      'mapping, channels.manifold_pressure.time: the time never moves forward.',
    );
  });
});
