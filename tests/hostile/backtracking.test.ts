import { describe, it } from 'vitest';
import { quantityProblem } from '../../src/build-sheet/quantity-schema.ts';
import { columnsWanted } from '../../src/channels/columns-wanted.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { isPersonalColumn } from '../../src/channels/personal-column.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { readTable } from '../../src/read/read-table.ts';
import { printable } from '../../src/render/terminal/printable.ts';
import { redactText } from '../../src/report/redact.ts';
import { draftLog } from '../../src/run/draft-log.ts';
import { surveyLog } from '../../src/run/survey-log.ts';
import { recogniseUnit } from '../../src/units/recognise-unit.ts';
import { onlyUserErrors } from '../support/only-user-errors.ts';

const LONG = 100_000;

/**
 * Texts on which an expression with two ways to match takes the square of the length: ten thousand million steps, which
 * no test survives.
 */
const TEXTS: readonly (readonly [string, string])[] = [
  ['open brackets', '('.repeat(LONG)],
  ['open and closed brackets', `${'[('.repeat(LONG / 2)})`],
  ['slashes', `${'/'.repeat(LONG)},`],
  ['hyphens', `${'-'.repeat(LONG)}x`],
  ['spaces', `x${' '.repeat(LONG)}x`],
  ['spaces and a second line', `1${' '.repeat(LONG)}x\ny`],
  ['digits', `${'1'.repeat(LONG)}x`],
  ['decimal characters', `1${'.'.repeat(LONG)}1`],
  ['commas', `1${',000'.repeat(LONG / 4)}x`],
  ['an escape sequence without end', `\x1b[${'0'.repeat(LONG)}`],
  ['letters', 'a'.repeat(LONG)],
  ['letters and digits', 'a1'.repeat(LONG / 2)],
  ['the word long', 'long'.repeat(LONG / 4)],
  ['underscores', `lat${'_'.repeat(LONG)}`],
];

const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;

/** A log with the text as a name, as a unit, and as a cell. */
function logWith(text: string): Buffer {
  const rows = Array.from({ length: 40 }, (_, i) => `${i / 10};${900 + 37 * i};${i === 7 ? quoted(text) : 5 + i}`);
  return Buffer.from(`Time;RPM;${quoted(text)}\ns;rpm;${quoted(text)}\n${rows.join('\n')}\n`);
}

describe('no expression blows up on', () => {
  it.each(TEXTS)(
    '%s',
    (_what, text) => {
      isPersonalColumn(text);
      recogniseUnit(text);
      quantityProblem(text, 'pressure');
      quantityProblem(`1 ${text}`, 'pressure');
      printable(text);
      redactText(text);
    },
    10_000,
  );

  it.each(TEXTS)(
    '%s in a log',
    (_what, text) => {
      const bytes = logWith(text);
      const log = { name: 'log.csv', chunks: [bytes], version: '0' };
      onlyUserErrors(() => surveyLog(log));
      onlyUserErrors(() => draftLog(log));
      const preamble = Buffer.concat([Buffer.from(`${quoted(text)}\n${text.replaceAll('\n', ' ')}\n`), bytes]);
      onlyUserErrors(() => readTable({ chunks: [preamble], name: 'log.csv' }, {}));
    },
    20_000,
  );

  it.each(TEXTS)(
    '%s in a mapping',
    (_what, text) => {
      const source = (column: string, unit: string) =>
        JSON.stringify({
          pullgate: 'map/1',
          time: { column: 'Time', unit: 's' },
          channels: { engine_speed: { column, unit, values: { [text]: 1 } } },
          missing: [text],
          ignore: [text],
        });
      onlyUserErrors(() => parseMapping(source('RPM', text), 'own.json'));
      onlyUserErrors(() => {
        const mapping = parseMapping(source(text, 'rpm'), 'own.json');
        const keep = columnsWanted(mapping);
        const table = readTable({ chunks: [logWith(text)], name: 'log.csv' }, { keep, missing: mapping.missing });
        return normalise(table, mapping, { columnNames: ['Time', 'RPM', text.slice(0, 200)] });
      });
    },
    20_000,
  );
});
