import { describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { MappingSchema } from '../../src/channels/mapping-schema.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';

const TIME = { column: 'Time', unit: 's' };
const parse = (channels: unknown, more: object = {}) =>
  parseMapping(JSON.stringify({ pullgate: 'map/1', time: TIME, channels, ...more }), 'car.map.json');

describe('parseMapping', () => {
  it('refuses a column that is read as two channels', () => {
    const both = { knock_retard_1: 'Retard 1', knock_retard_2: { column: 'Retard 1' } };
    expect(() => parse(both)).toThrow(
      /channels\.knock_retard_2\.column: "Retard 1" is read as knock_retard_1 already\. Name the column of knock_retard_2/,
    );
  });
  it('keeps what the file says', () => {
    const mapping = parse(
      {
        engine_speed: 'RPM',
        manifold_pressure: { column: 'Boost', unit: 'psi', reference: 'gauge' },
        lambda: { column: 'Wideband', unit: 'AFR', stoich: 14.7 },
        knock_retard_1: { column: 'Retard cyl 1', unit: 'deg', scale: -1 },
        fuel_system_status: { column: 'FS', values: { CL: 2 } },
        vehicle_speed: { column: 'V', time: 'V time', offset: 1 },
      },
      {
        $schema: 'https://example.invalid/map.schema.json',
        title: 'Demo',
        dialect: {
          delimiter: ';',
          encoding: 'utf-8',
          quoteChar: '"',
          commentPrefix: '#',
          skipRows: 2,
          headerRowCount: 2,
          decimalChar: ',',
        },
        layout: 'wide',
        missing: ['N/A'],
        ignore: ['Latitude'],
      },
    );
    expect(mapping.channels.manifold_pressure).toEqual({ column: 'Boost', unit: 'psi', reference: 'gauge' });
    expect(mapping.dialect?.headerRowCount).toBe(2);
    expect(mapping.title).toBe('Demo');
  });

  it.each(['s', 'ms', 'us', 'min', 'clock', 'iso8601', 'epoch_s', 'epoch_ms'])('time unit %s', (unit) => {
    expect(parse({ engine_speed: 'RPM' }, { time: { column: 'T', unit } }).time).toEqual({ column: 'T', unit });
  });

  it('comments and trailing commas are fine', () => {
    const text = '{ // map\n"pullgate": "map/1", "time": { "rate": 20 }, "channels": { "engine_speed": "RPM", }, }';
    expect(parseMapping(text, 'm').time).toEqual({ rate: 20 });
  });

  it.each([
    [
      'a misspelt key',
      { engine_speed: 'R' },
      { chanels: {} },
      'chanels: "chanels" is not a key that can stand here. Did you mean "channels"?',
    ],
    [
      'a misspelt channel',
      { engin_speed: 'R' },
      {},
      'channels.engin_speed: "engin_speed" is not a key that can stand here. Did you mean "engine_speed"?',
    ],
    [
      'a misspelt key in a channel',
      { engine_speed: { column: 'R', sclae: 1 } },
      {},
      'channels.engine_speed.sclae: "sclae" is not a key that can stand here. Did you mean "scale"?',
    ],
    [
      'a misspelt key in the dialect',
      { engine_speed: 'R' },
      { dialect: { delimeter: ';' } },
      'dialect.delimeter: "delimeter" is not a key that can stand here. Did you mean "delimiter"?',
    ],
    [
      'a number for a column',
      { engine_speed: 3 },
      {},
      'channels.engine_speed: found the number 3. It must be a text in quotes.',
    ],
    ['an empty column', { engine_speed: '' }, {}, 'channels.engine_speed: found "". It must not be empty.'],
    ['no column', { engine_speed: { unit: 'rpm' } }, {}, 'channels.engine_speed.column: "column" is missing.'],
    ['a channel switched off', { engine_speed: null }, {}, 'channels.engine_speed: found null.'],
    [
      'a unit of something else',
      { engine_speed: { column: 'R', unit: 'psi' } },
      {},
      'channels.engine_speed.unit: "psi" is no unit of engine_speed. Units that would do: rpm, Hz.',
    ],
    [
      'an unknown unit',
      { coolant_temperature: { column: 'R', unit: 'warm' } },
      {},
      'channels.coolant_temperature.unit: "warm" is not a unit known here. Units that would do: degC, degF, K.',
    ],
    [
      'a unit against the reference',
      { manifold_pressure: { column: 'M', unit: 'psig', reference: 'absolute' } },
      {},
      'channels.manifold_pressure.reference: the unit "psig" says gauge, the reference says absolute. Keep the right one.',
    ],
    [
      'a reference on no pressure',
      { lambda: { column: 'L', reference: 'gauge' } },
      {},
      'channels.lambda.reference: lambda is no pressure. Leave "reference" out.',
    ],
    [
      'a gauge barometer',
      { barometric_pressure: { column: 'B', reference: 'gauge' } },
      {},
      'channels.barometric_pressure.reference: barometric pressure is always absolute. Leave "reference" out.',
    ],
    [
      'a stoich on no mixture',
      { gear: { column: 'G', stoich: 14.7 } },
      {},
      'channels.gear.stoich: gear is no mixture. Leave "stoich" out.',
    ],
    [
      'a scale of zero',
      { gear: { column: 'G', scale: 0 } },
      {},
      'channels.gear.scale: a scale of 0 would wipe out every value. Leave "scale" out for 1.',
    ],
    [
      'text as a value',
      { gear: { column: 'G', values: { N: 'zero' } } },
      {},
      'channels.gear.values.N: found "zero". It must be a number.',
    ],
    ['no channel', {}, {}, 'channels: no channel is mapped. Add at least "engine_speed": "name of its column".'],
    ['0 Hz', { engine_speed: 'R' }, { time: { rate: 0 } }, 'time.rate: found the number 0. It must be above 0.'],
    [
      'a time unit of our own',
      { engine_speed: 'R' },
      { time: { column: 'T', unit: 'sec' } },
      'time.unit: found "sec". Did you mean "s"? It can be "s", "ms", "us", "min", "clock", "iso8601", "epoch_s", "epoch_ms".',
    ],
    [
      'rate and unit',
      { engine_speed: 'R' },
      { time: { rate: 20, unit: 's' } },
      'time.unit: "unit" is not a key that can stand here. Known keys: column, rate.',
    ],
    ['no time', { engine_speed: 'R' }, { time: undefined }, 'time: "time" is missing.'],
    [
      'long without its columns',
      { engine_speed: 'R' },
      { layout: 'long' },
      'layout: the long layout needs to know its columns. Add "long": { "name": "…", "value": "…" }.',
    ],
    [
      'long columns in a wide log',
      { engine_speed: 'R' },
      { long: { name: 'n', value: 'v' } },
      'long: "long" belongs to the long layout. Set "layout": "long", or leave "long" out.',
    ],
    [
      'a long log by rate',
      { engine_speed: 'R' },
      { layout: 'long', long: { name: 'n', value: 'v' }, time: { rate: 10 } },
      'time.rate: a long log needs a time column.',
    ],
    [
      'an own time in a long log',
      { engine_speed: { column: 'R', time: 'T2' } },
      { layout: 'long', long: { name: 'n', value: 'v' } },
      'channels.engine_speed.time: a row of the long layout has one time, named under "time". Leave it out.',
    ],
    ['a third layout', { engine_speed: 'R' }, { layout: 'tall' }, 'layout: found "tall". It can be "wide", "long".'],
    [
      'three header rows',
      { engine_speed: 'R' },
      { dialect: { headerRowCount: 3 } },
      'dialect.headerRowCount: found the number 3.',
    ],
    [
      'half a line to skip',
      { engine_speed: 'R' },
      { dialect: { skipRows: 0.5 } },
      'dialect.skipRows: found the number 0.5. It must be a whole number.',
    ],
    [
      'a strange decimal sign',
      { engine_speed: 'R' },
      { dialect: { decimalChar: ';' } },
      'dialect.decimalChar: found ";". It can be ".", ",".',
    ],
    [
      'a build sheet',
      { engine_speed: 'R' },
      { pullgate: 'build/1' },
      'car.map.json: this is a build sheet, not a mapping. Give it with --build.',
    ],
    ['another version', { engine_speed: 'R' }, { pullgate: 'map/2' }, 'pullgate: found "map/2".'],
    [
      'a key into the program',
      { constructor: 'R' },
      {},
      'channels.constructor: "constructor" is not a key that can stand here.',
    ],
  ])('%s is refused', (_, channels, more, message) => {
    expect(() => parse(channels, more)).toThrow(message);
  });

  it('__proto__ is refused wherever it stands', () => {
    const text =
      '{ "pullgate": "map/1", "time": { "rate": 1 }, "channels": { "gear": { "column": "G", "values": { "__proto__": 1 } } } }';
    expect(() => parseMapping(text, 'm')).toThrow('"__proto__" is not a key that can stand here.');
  });

  it('says file, line, column and key path of every problem', () => {
    const text = `{
  "pullgate": "map/1",
  "time": { "column": "T", "unit": "s" },
  "channels": {
    "engin_speed": "RPM",
    "lambda": { "colum": "AFR" }
  }
}`;
    expect(() => parseMapping(text, 'm.json')).toThrow(
      [
        'm.json: 3 problems',
        '  m.json:5:5, channels.engin_speed: "engin_speed" is not a key that can stand here. Did you mean "engine_speed"?',
        '  m.json:6:5, channels.lambda.column: "column" is missing. It must be a text in quotes.',
        '  m.json:6:17, channels.lambda.colum: "colum" is not a key that can stand here. Did you mean "column"?',
      ].join('\n'),
    );
  });

  it('shows the first problems of many and counts the rest', () => {
    const channels = Object.fromEntries(Array.from({ length: 12 }, (_, i) => [`zz${i}`, 'x']));
    expect(() => parse(channels)).toThrow(/12 problems[\s\S]*and 4 more$/);
  });

  it('has a JSON Schema with descriptions and the channels by name', () => {
    const text = JSON.stringify(z.toJSONSchema(MappingSchema, { io: 'input' }));
    expect(text).toContain('"engine_speed"');
    expect(text).toContain('value = raw × scale + offset, then the unit.');
  });
});
