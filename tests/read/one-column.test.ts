import { describe, expect, test } from 'vitest';
import { normalise } from '../../src/channels/normalise.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { namesOf, readText, valuesOf } from './read-text.ts';

const RATE = { timeByRow: true };

describe('a log of one column', () => {
  test('is read where the mapping gives the rate', () => {
    const table = readText('RPM\n850\n860\n870\n', RATE);
    expect(namesOf(table)).toEqual(['RPM']);
    expect(valuesOf(table, 'RPM')).toEqual([850, 860, 870]);
    const mapping = parseMapping('{"pullgate":"map/1","time":{"rate":10},"channels":{"engine_speed":"RPM"}}', 'm');
    expect([...(normalise(table, mapping).channels.get('engine_speed')?.time ?? [])]).toEqual([0, 0.1, 0.2]);
  });

  test.each([
    ['decimal commas', 'Lambda\n0,99\n1,01\n1,02\n', 'Lambda', [0.99, 1.01, 1.02]],
    ['a preamble', 'Invented recording\nCar: demo\n\nEngine speed\n850\n860\n', 'Engine speed', [850, 860]],
    ['quotes', '"RPM"\n"850"\n"860"\n', 'RPM', [850, 860]],
    ['old line ends', 'RPM\r850\r860\r', 'RPM', [850, 860]],
  ])('may have %s', (_what, text, name, values) => {
    expect(valuesOf(readText(text, RATE), name)).toEqual(values);
  });

  test('without a rate the refusal names the delimiters tried', () => {
    expect(() => readText('RPM\n850\n860\n')).toThrow(/no delimiter found.*dialect\.delimiter/);
  });

  test('with a rate, what holds no numbers is refused all the same', () => {
    expect(() => readText('some words\nand more words\nand others\n', RATE)).toThrow(/no delimiter found/);
  });

  test('blank lines between the rows are told, as they may have been samples', () => {
    expect(readText('RPM\n850\n\n860\n870\n\n', RATE).notes).toEqual([
      expect.stringMatching(/^Blank lines and comments between the rows: 1, left out/),
    ]);
  });
});

describe('rows without a time column', () => {
  test('keep their place where all their cells are blank', () => {
    const text = 'RPM,MAP\n850,35\n,\n870,37\n';
    expect(valuesOf(readText(text, RATE), 'RPM')).toEqual([850, Number.NaN, 870]);
    expect(valuesOf(readText(text), 'RPM')).toEqual([850, 870]);
  });
});
