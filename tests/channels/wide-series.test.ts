import { expect, it } from 'vitest';
import { channelOf, csvOf, recordingOf } from './normalise-csv.ts';

const log = (twin: (i: number) => number | string) =>
  csvOf('t,RPM,RPM', 50, (i) => [(i * 0.1).toFixed(1), 800 + i, twin(i)]);
const mapped = { channels: { engine_speed: 'RPM' } };

it('two columns of one name are one where they say the same', () => {
  const { values } = channelOf(
    recordingOf(
      log((i) => 800 + i),
      mapped,
    ),
    'engine_speed',
  );
  expect([values[0], values[49]]).toEqual([800, 849]);
});

it('two columns of one name that differ are refused, unless the later one is named', () => {
  const text = log((i) => 900 + i);
  expect(() => recordingOf(text, mapped)).toThrow(/several columns are named "RPM", and they differ.*"RPM \(2\)"/s);
  const { values } = channelOf(recordingOf(text, { channels: { engine_speed: 'RPM (2)' } }), 'engine_speed');
  expect(values[0]).toBe(900);
});

it('a point between thousands where decimals have a comma is refused: it may mean either', () => {
  const text = ['t;RPM', ...Array.from({ length: 40 }, (_, i) => `${i},5;${i < 10 ? 900 + i : `1.${300 + i}`}`)].join(
    '\n',
  );
  expect(() => recordingOf(text, mapped)).toThrow(/30 cells of "RPM", such as "1\.310", have a point/);
});
