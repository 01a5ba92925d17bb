import { describe, expect, it } from 'vitest';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { UserError } from '../../src/kernel/user-error.ts';
import { onlyUserErrors } from '../support/only-user-errors.ts';

const READERS = [
  ['mapping', (text: string): unknown => parseMapping(text, 'own.json')],
  ['build sheet', (text: string): unknown => parseBuildSheet(text, 'own.json')],
] as const;

const DEEP = 100_000;

const HOSTILE: readonly (readonly [what: string, text: string, told: RegExp])[] = [
  ['brackets 100,000 deep', '['.repeat(DEEP), /own\.json:1:33: brackets stand more than 32 deep/],
  ['objects 100,000 deep', `{"a":`.repeat(DEEP), /brackets stand more than 32 deep/],
  ['closed brackets 100,000 deep', `${'['.repeat(DEEP)}${']'.repeat(DEEP)}`, /brackets stand more than 32 deep/],
  ['nothing but comments', `${'/* x */ '.repeat(10_000)}`, /empty|not valid JSON/],
  ['a comment without end', '/*', /empty|not valid JSON/],
  ['a key __proto__', '{ "__proto__": { "pullgate": "map/1" } }', /"__proto__" is not a key/],
  ['an escaped key __proto__', '{ "__pro\\u0074o__": {} }', /"__proto__" is not a key/],
  ['a key constructor', '{ "constructor": { "prototype": { "x": 1 } } }', /"constructor" is not a key/],
  ['a key written twice', '{ "pullgate": "map/1", "pullgate": "map/1" }', /written twice/],
  ['the same key in two spellings', '{ "pullgate": 1, "pullgat\\u0065": 2 }', /written twice/],
  ['NaN', '{ "time": { "rate": NaN } }', /not valid JSON/],
  ['Infinity', '{ "time": { "rate": Infinity } }', /not valid JSON/],
  ['a hexadecimal number', '{ "time": { "rate": 0x10 } }', /not valid JSON/],
  ['a megabyte of spaces', ' '.repeat(2 ** 20 + 1), /longer than 1 MiB/],
  ['NUL bytes', '\0\0\0\0', /not valid JSON|empty/],
];

describe.each(READERS)('a hostile %s', (_kind, parse) => {
  it.each(HOSTILE)(
    '%s',
    (_what, text, told) => {
      const error = onlyUserErrors(() => parse(text));
      expect(error).toBeInstanceOf(UserError);
      expect((error as UserError).message).toMatch(told);
    },
    10_000,
  );

  it('eighty thousand unknown keys are told in a few lines, in no time', () => {
    const keys = Array.from({ length: 80_000 }, (_, i) => `"k${i}":1`).join(',');
    const error = onlyUserErrors(() => parse(`{${keys}}`)) as UserError;
    expect(error.message.split('\n').length).toBeLessThan(12);
    expect(error.message).toMatch(/and \d+ more/);
  }, 20_000);

  it('leaves the prototypes of the program alone', () => {
    for (const [, text] of HOSTILE) onlyUserErrors(() => parse(text));
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect(({} as Record<string, unknown>).pullgate).toBeUndefined();
  });
});

const mapping = (more: string) =>
  `{ "pullgate": "map/1", "time": { "rate": 10 }, "channels": { "engine_speed": { "column": "R"${more} } } }`;

describe('numbers beyond all numbers in a mapping', () => {
  it.each(['1e999', '-1e999'])('%s is no number', (number) => {
    expect(() => parseMapping(mapping(`, "scale": ${number}`), 'm')).toThrow(/channels\.engine_speed/);
    expect(() => parseMapping(mapping('').replace('10', number), 'm')).toThrow(/time\.rate/);
  });

  it.each(['1e-320', '1e300', '0', '-1'])('a rate of %s is refused', (number) => {
    expect(() => parseMapping(mapping('').replace('10', number), 'm')).toThrow(/time\.rate/);
  });
});

describe('a quantity of a build sheet', () => {
  const sheet = (redline: string) =>
    JSON.stringify({ pullgate: 'build/1', engine: { displacement: '2 L', cylinders: 4, redline } });

  it.each([`${'9'.repeat(400)} rpm`, '1e999 rpm', 'Infinity rpm', 'NaN rpm', '0x1000 rpm', '-5 rpm', '0 rpm'])(
    '%s is no redline',
    (text) => expect(() => parseBuildSheet(sheet(text), 'own.json')).toThrow(/engine\.redline/),
  );
});
