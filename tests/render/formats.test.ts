import { describe, expect, it } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';
import { FORMATS, formatNamed } from '../../src/render/formats.ts';
import { jsonRenderer } from '../../src/render/json.ts';
import { summarise } from '../../src/report/summarise.ts';
import { sampleReport } from '../support/sample-report.ts';

describe('formats', () => {
  it('have each their own id and file extension', () => {
    expect(new Set(FORMATS.map((format) => format.id)).size).toBe(FORMATS.length);
    expect(new Set(FORMATS.map((format) => format.extension)).size).toBe(FORMATS.length);
  });

  it.each([
    ['xml', 'junit'],
    ['md', 'markdown'],
    ['txt', 'terminal'],
    ['.XML', 'junit'],
  ])('asked for by the ending of their files, %s, are named: %s', (ending, id) =>
    expect(() => formatNamed(ending)).toThrow(
      `Did you mean "${id}", whose files end in ${ending.toLowerCase().replace(/^\.?/, '.')}? Formats are:`,
    ),
  );

  it('are found by id; an unknown one is told with those there are', () => {
    expect(formatNamed('json').id).toBe('json');
    expect(() => formatNamed('jsn')).toThrow(UserError);
    expect(() => formatNamed('jsn')).toThrow(
      'Did you mean "json"? Formats are: terminal, json, ndjson, junit, markdown, corrections-csv, csv, html.',
    );
  });
});

describe('JSON', () => {
  const outcome = { report: sampleReport() };

  it('is one report for one log', () => {
    const renderer = jsonRenderer({ several: false });
    expect(renderer.each(outcome)).toBe('');
    expect(JSON.parse(renderer.end(summarise([outcome])))).toEqual(outcome.report);
  });

  it('is a summary for several, even where one alone could be read', () => {
    const summary = summarise([outcome, { unusable: { file: 'x', error: 'y' } }]);
    expect(JSON.parse(jsonRenderer({ several: true }).end(summary))).toEqual(summary);
  });
});
