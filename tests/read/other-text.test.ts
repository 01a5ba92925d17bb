import { describe, expect, it } from 'vitest';
import { readText, valuesOf } from './read-text.ts';

describe('text that is no log', () => {
  it.each([
    ['{ "pullgate": "map/1", "x": 1,\n"y": 2 }', 'log.csv: this is a mapping, not a log. Give it with --map'],
    ['\ufeff// notes\n{\n  "pullgate" : "build/1" }', 'this is a build sheet, not a log. Give it with --build'],
    ['{"pullgate":"report/1","gate":"pass"}\n', 'this is a report of pullgate, not a log.'],
    ['{"pullgate":"summary/1"}\n', 'this is a report of pullgate, not a log.'],
    ['{ "a": 1,\n"b": 2 }\n', 'this is JSON, not a log in CSV. Export the log as CSV'],
    ['[\n  { "t": 0, "rpm": 800 }\n]', 'this is JSON, not a log in CSV.'],
    ['  <!doctype html><p>1,2', 'this is a web page or another marked-up text'],
    ['<?xml version="1.0"?>\n<log>1,2</log>', 'marked-up text'],
  ])('%j', (text, message) => {
    expect(() => readText(text)).toThrow(message);
  });

  it.each([
    '[t],[RPM]\n0,800\n1,810\n',
    '<t>,<RPM>\n0,800\n1,810\n',
    '{t},{RPM}\n0,800\n1,810\n',
    '/t,RPM\n0,800\n1,810\n',
  ])('but %j is one', (text) => {
    const table = readText(text);
    expect(valuesOf(table, table.columns[1].name)).toEqual([800, 810]);
  });
});

describe('a decimal character that the numbers contradict', () => {
  const comma = 't;x\n0,0;1,5\n0,1;2,5\n0,2;3,5\n';
  const point = 't;x\n0.0;1.5\n0.1;2.5\n0.2;3.5\n';

  it('is refused with what the numbers have', () => {
    expect(() => readText(comma, { dialect: { decimalChar: '.' } })).toThrow(
      'log.csv, line 2: the numbers have decimal commas, and the dialect says a point.',
    );
    expect(() => readText(point, { dialect: { decimalChar: ',' } })).toThrow(
      'decimal points, and the dialect says a comma.',
    );
  });

  it('is taken where they do not', () => {
    expect(valuesOf(readText(comma, { dialect: { decimalChar: ',' } }), 'x')).toEqual([1.5, 2.5, 3.5]);
    expect(valuesOf(readText(point, { dialect: { decimalChar: '.' } }), 'x')).toEqual([1.5, 2.5, 3.5]);
    expect(valuesOf(readText('t;x\n0;1\n1;2\n', { dialect: { decimalChar: ',' } }), 'x')).toEqual([1, 2]);
  });

  it('is not doubted for a text or two, or for groups of digits', () => {
    expect(() => readText('t,x\n0,"1,5"\n1,"2,5"\n', { dialect: { decimalChar: '.' } })).not.toThrow();
    expect(() => readText('t;x\n0;1,234\n1;2,345\n', { dialect: { decimalChar: '.' } })).not.toThrow('decimal commas');
  });
});
