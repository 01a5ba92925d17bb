import { describe, expect, it } from 'vitest';
import { channelOf, recordingOf } from './normalise-csv.ts';

const MAPPING = {
  layout: 'long',
  long: { name: 'name', value: 'value', unit: 'unit' },
  time: { column: 't', unit: 'ms' },
  channels: { engine_speed: 'RPM', manifold_pressure: 'MAP', fuel_system_status: 'Loop' },
};

const rpm = (t: number, v: number) => `${t},RPM,${v},rpm`;
const map = (t: number, v: number) => `${t},MAP,${v},bar`;
const loop = (t: number, v: string) => `${t},Loop,${v},`;
const HEADER = 't,name,value,unit';
const rounded = (values: ArrayLike<number>) => Array.from(values, (v) => Number(v.toFixed(6)));

describe('a row per sample', () => {
  it('gives every channel its own instants and unit', () => {
    const rows = Array.from({ length: 20 }, (_, i) => [
      rpm(5000 + i * 100, 900 + i),
      map(5000 + i * 100 + 30, 0.4 + i / 100),
    ]).flat();
    const recording = recordingOf([HEADER, ...rows, loop(5050, 'CL'), loop(6050, 'OL')].join('\n'), MAPPING);
    expect(rounded(channelOf(recording, 'engine_speed').time.slice(0, 3))).toEqual([0, 0.1, 0.2]);
    const pressure = channelOf(recording, 'manifold_pressure');
    expect(rounded(pressure.time.slice(0, 3))).toEqual([0.03, 0.13, 0.23]);
    expect(pressure.values[0]).toBeCloseTo(40, 9);
    expect([...channelOf(recording, 'fuel_system_status').values]).toEqual([2, 1]);
    expect(recording.segments).toHaveLength(1);
    expect(recording.durationS).toBeCloseTo(1.93, 6);
    expect(recording.notes).toContain('The log’s clock starts at 5000 ms; times here count from the first row.');
  });

  it('channels may share stamps without being spread apart', () => {
    const rows = Array.from({ length: 20 }, (_, i) => [rpm(i * 100, 900 + i), map(i * 100, 0.4 + i / 100)]).flat();
    const recording = recordingOf([HEADER, ...rows, loop(0, 'CL')].join('\n'), MAPPING);
    expect(rounded(channelOf(recording, 'manifold_pressure').time)).toEqual(
      rounded(channelOf(recording, 'engine_speed').time),
    );
  });

  it('one channel after another is no backward step', () => {
    const rows = [
      ...Array.from({ length: 20 }, (_, i) => rpm(i * 100, 900 + i)),
      ...Array.from({ length: 20 }, (_, i) => map(i * 100 + 20, 0.4)),
      ...Array.from({ length: 20 }, (_, i) => loop(i * 100 + 40, 'CL')),
    ];
    const recording = recordingOf([HEADER, ...rows].join('\n'), MAPPING);
    expect(recording.segments).toHaveLength(1);
    expect(channelOf(recording, 'manifold_pressure').time[0]).toBeCloseTo(0.02, 9);
    expect(recording.notes.join()).not.toContain('goes back');
  });

  it('a clock that starts again opens a new stretch for all channels', () => {
    const part = Array.from({ length: 20 }, (_, i) => [
      rpm(9000 + i * 100, 900 + i),
      map(9000 + i * 100 + 30, 0.4),
      loop(9000 + i * 100 + 60, 'CL'),
    ]).flat();
    const again = Array.from({ length: 20 }, (_, i) => [
      rpm(i * 100, 900 + i),
      map(i * 100 + 30, 0.4),
      loop(i * 100 + 60, 'CL'),
    ]).flat();
    const recording = recordingOf([HEADER, ...part, ...again].join('\n'), MAPPING);
    expect(recording.segments).toHaveLength(2);
    expect(recording.notes.join()).toContain('Time goes back by');
    for (const channel of recording.channels.values()) {
      for (let i = 1; i < channel.time.length; i++) expect(channel.time[i]).toBeGreaterThan(channel.time[i - 1]);
    }
  });

  it('a name that is not there lists near names', () => {
    const csv = [HEADER, rpm(0, 900), rpm(100, 900), map(0, 1), map(100, 1)].join('\n');
    expect(() => recordingOf(csv, { ...MAPPING, channels: { manifold_pressure: 'MAPP' } })).toThrow(
      'mapping, channels.manifold_pressure: the log has no column "MAPP". Did you mean "MAP"?',
    );
  });
});
