import { describe, expect, it } from 'vitest';
import { mayBeGuessed } from '../../src/channels/guess-layout.ts';
import { guessMapping } from '../../src/channels/guess-mapping.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { readTable } from '../../src/read/read-table.ts';
import { csvOf, tableOf } from './normalise-csv.ts';

const readAll = (csv: string) =>
  readTable({ chunks: [new TextEncoder().encode(csv)], name: 'log.csv' }, { keep: mayBeGuessed });

describe('a log with a row per sample', () => {
  const names = ['Engine speed', 'Boost', 'Loop'];
  const csv = (header: string, step: number) =>
    [
      header,
      ...Array.from({ length: 900 }, (_, i) => {
        const at = Math.floor(i / 3);
        const value = [at < 50 ? 0 : 800 + at * 10, at < 50 ? 0 : -9 + at * 0.06, at % 2 ? 'CL' : 'OL'][i % 3];
        return `${at * step},${names[i % 3]},${value},${['rpm', 'psi', ''][i % 3]}`;
      }),
    ].join('\n');

  it('is recognised, with its names as columns and its units beside them', () => {
    const table = readAll(csv('Time,Name,Value,Unit', 0.1));
    const { mapping } = guessMapping(table);
    expect(mapping).toMatchObject({
      layout: 'long',
      long: { name: 'Name', value: 'Value', unit: 'Unit' },
      time: { column: 'Time', unit: 's' },
      channels: {
        engine_speed: { column: 'Engine speed' },
        manifold_pressure: { column: 'Boost', reference: 'gauge' },
      },
    });
    expect(normalise(table, mapping).channels.get('manifold_pressure')?.max).toBeGreaterThan(140);
  });

  it('tells its unit of time by the pace of one name, not from row to row', () => {
    expect(guessMapping(readAll(csv('Zeit,Kanal,Wert,Einheit', 100))).mapping.time).toEqual({
      column: 'Zeit',
      unit: 'ms',
    });
  });

  it('never takes a column of people for one', () => {
    const people = csvOf('Time (s),RPM,Name', 60, (i) => [i * 0.1, 900 + i, ['Ada', 'Bo'][i % 2]]);
    const guessed = guessMapping(readAll(people));
    expect(JSON.stringify(guessed)).not.toMatch(/Name|Ada|Bo/);
  });
});

describe('columns with a time of their own', () => {
  it('are paired by name, and the first gives the time of the log', () => {
    const csv = csvOf('RPM time,RPM,MAP (kPa) time,MAP (kPa)', 200, (i) => [
      i * 50,
      800 + i * 10,
      i * 50 + 7,
      35 + (i % 90),
    ]);
    const { mapping } = guessMapping(tableOf(csv));
    expect(mapping.time).toEqual({ column: 'RPM time', unit: 'ms' });
    expect(mapping.channels).toMatchObject({
      engine_speed: { column: 'RPM', time: 'RPM time' },
      manifold_pressure: { column: 'MAP (kPa)', time: 'MAP (kPa) time' },
    });
  });
});

describe('a log without time', () => {
  const csv = csvOf('RPM,MAP (kPa)', 60, (i) => [800 + i, 40 + i]);

  it('needs its rate', () => {
    expect(() => guessMapping(tableOf(csv))).toThrow('no column looks like time.');
    expect(guessMapping(tableOf(csv), { rateHz: 20 }).mapping.time).toEqual({ rate: 20 });
  });

  it('an engine run time that stays at zero is none', () => {
    const still = csvOf('ENGINE_RUN_TIME (),ENGINE_RPM ()', 60, (i) => [0, 800 + i]);
    expect(() => guessMapping(tableOf(still))).toThrow('no column looks like time.');
  });
});

describe('units of time', () => {
  it('minutes show where seconds would be over at once', () => {
    const csv = csvOf('Time,RPM', 2400, (i) => [(i / 1200).toFixed(6), 800 + (i % 3000)]);
    expect(guessMapping(tableOf(csv)).mapping.time).toEqual({ column: 'Time', unit: 'min' });
  });

  it('engine run time counts seconds', () => {
    const csv = csvOf('ENGINE_RUN_TIME (),ENGINE_RPM ()', 60, (i) => [Math.floor(i * 0.9), 800 + i]);
    expect(guessMapping(tableOf(csv)).mapping.time).toEqual({ column: 'ENGINE_RUN_TIME ()', unit: 's' });
  });
});

describe('cells left blank in turn', () => {
  it('gauge shows all the same, however the blanks fall', () => {
    const csv = csvOf('Time (s),RPM,Boost (psi)', 6000, (i) => [
      i * 0.05,
      i % 2 ? '' : 800 + i,
      i % 2 ? -9 + i * 0.003 : '',
    ]);
    expect(guessMapping(tableOf(csv)).mapping.channels.manifold_pressure).toMatchObject({ reference: 'gauge' });
  });
});
