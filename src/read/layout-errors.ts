import { UserError } from '../kernel/user-error.ts';
import { type HeadRecord, isBlank } from './head-records.ts';
import { atLine } from './read-options.ts';
import { delimiterName } from './sniff-delimiter.ts';
import { dataWidth } from './sniff-header.ts';

/** More columns than this is no log. */
export const MOST_COLUMNS = 10_000;

export function tooManyColumns(name: string, line: number, columns: number): UserError {
  return new UserError(
    `the header has ${columns} columns, more than the ${MOST_COLUMNS} that a log may have.`,
    atLine(name, line),
    'Check that this file is a log and that its line ends were not lost.',
  );
}

export function blankFile(name: string): UserError {
  return new UserError('the file holds only blank lines.', name, 'Check that the logger was recording.');
}

export function singleColumn(name: string, tried: readonly string[]): UserError {
  return new UserError(
    `no delimiter found: the lines do not split into columns (tried ${tried.map(delimiterName).join(', ')}).`,
    name,
    'If another character separates the cells, give it as "dialect.delimiter" in the mapping.',
  );
}

export function delimiterAbsent(name: string, given: string, seen: string | undefined): UserError {
  const instead = seen === undefined ? '' : ` The lines look separated by ${delimiterName(seen)}.`;
  return new UserError(
    `the dialect's delimiter, ${delimiterName(given)}, does not occur in the file.${instead}`,
    name,
    'Correct "dialect.delimiter" in the mapping, or leave it out.',
  );
}

export function badDialect(name: string, key: string, found: unknown, wanted: string): UserError {
  return new UserError(
    `the dialect's ${key} is ${JSON.stringify(found)}, which is not ${wanted}.`,
    name,
    `Correct "dialect.${key}" in the mapping, or leave it out.`,
  );
}

export function wrongDecimal(name: string, line: number, given: '.' | ','): UserError {
  const [found, told] = given === '.' ? ['commas', 'a point'] : ['points', 'a comma'];
  return new UserError(
    `the numbers have decimal ${found}, and the dialect says ${told}.`,
    atLine(name, line),
    'Correct "dialect.decimalChar" in the mapping, or leave it out.',
  );
}

export function noDataRows(name: string, headerLine: number | undefined): UserError {
  return new UserError(
    'there is a header but no data row below it.',
    headerLine === undefined ? name : atLine(name, headerLine),
    'Check that the logger was recording, and that the file was copied whole.',
  );
}

export function noNumbers(name: string): UserError {
  return new UserError(
    'no cell of the file reads as a number.',
    name,
    'Check that this is a log. If its numbers carry another decimal character or digit groups, give "dialect.decimalChar" in the mapping or export plain numbers.',
  );
}

export function longerThanHeader(name: string, line: number, names: number): UserError {
  return new UserError(
    `most rows have more cells than the header has names (${names}), so cells would land under wrong names.`,
    atLine(name, line),
    'Decimal commas in a comma-separated file need quotes or another delimiter; otherwise correct the header, or "dialect.skipRows" in the mapping.',
  );
}

export function tooManyCells(name: string, line: number, columns: number): UserError {
  return new UserError(
    `up to here the log has more cells than can be held: ${columns} columns are read.`,
    atLine(name, line),
    'Split the log, or give a mapping that names fewer columns.',
  );
}

/** Why no header was found. */
export function noHeader(name: string, records: readonly HeadRecord[], skipRows: number | undefined): UserError {
  const filled = records.filter((record) => !isBlank(record));
  if (skipRows !== undefined) {
    return badDialect(name, 'skipRows', skipRows, 'followed by a header row');
  }
  const width = dataWidth(records);
  if (width === 0) return filled.length <= 2 ? noDataRows(name, filled[0]?.line) : noNumbers(name);
  const data = filled.find((record) => Math.abs(record.cells.length - width) <= 1) ?? filled[0];
  return new UserError(
    'no row of column names found above the data.',
    atLine(name, data.line),
    'Add a header row, or set "dialect.skipRows" in the mapping to the number of lines above it ("dialect.headerRowCount": 0 if there is none).',
  );
}
