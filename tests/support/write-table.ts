import fc from 'fast-check';
import type { Mapping } from '../../src/channels/mapping-schema.ts';
import { type AnyTable, asLogged, type Written } from './any-table.ts';

/** How a file is written: everything two loggers may do differently for one drive. */
export interface Style {
  readonly delimiter: string;
  readonly decimalChar: '.' | ',';
  readonly quoted: boolean;
  readonly newline: string;
  readonly encoding: 'utf-8' | 'utf-8 with mark' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  readonly preamble: readonly string[];
  readonly commentEvery: number;
  readonly unitIn: 'mapping' | 'brackets' | 'row';
  readonly trailingDelimiter: boolean;
  readonly padding: string;
  readonly layout: 'wide' | 'long' | 'own time' | 'held' | 'rate';
  readonly time: 's' | 'ms' | 'us' | 'min' | 'clock' | 'iso8601' | 'epoch_s' | 'epoch_ms';
  /** Seconds on the log's clock at the first row. */
  readonly startS: number;
  readonly blank: string;
  /** Whether the mapping gives the dialect. */
  readonly told: boolean;
}

export const anyStyle: fc.Arbitrary<Style> = fc
  .record({
    delimiter: fc.constantFrom(',', ';', '\t', '|'),
    decimalChar: fc.constantFrom('.' as const, ',' as const),
    quoted: fc.boolean(),
    newline: fc.constantFrom('\n', '\r\n', '\r'),
    encoding: fc.constantFrom<Style['encoding']>('utf-8', 'utf-8 with mark', 'utf-16le', 'utf-16be', 'windows-1252'),
    preamble: fc.constantFrom([], ['Car: demo'], ['Invented recording', 'Car: démo', '']),
    commentEvery: fc.constantFrom(0, 3),
    unitIn: fc.constantFrom<Style['unitIn']>('mapping', 'brackets', 'row'),
    trailingDelimiter: fc.boolean(),
    padding: fc.constantFrom('', ' '),
    layout: fc.constantFrom<Style['layout']>('wide', 'long', 'own time', 'held', 'rate'),
    time: fc.constantFrom<Style['time']>('s', 'ms', 'us', 'min', 'clock', 'iso8601', 'epoch_s', 'epoch_ms'),
    startS: fc.constantFrom(0, 37_800, 86_398),
    blank: fc.constantFrom('', 'N/A', 'blank cell', '-9999'),
    told: fc.boolean(),
  })
  .map((style) => {
    // A decimal comma beside a comma that separates needs quotes, and a reader that knows.
    const sameChar = style.decimalChar === ',' && style.delimiter === ',';
    return sameChar ? { ...style, quoted: true, told: true } : style;
  });

export interface WrittenFile {
  readonly bytes: Buffer;
  readonly mapping: Mapping;
}

/** Rows per value where values are held. */
export const HOLD_ROWS = 3;
/** Each channel is that much later than the one before, where each has its own time. */
export const OWN_TIME_PHASE_S = 0.002;

const EPOCH_S = Date.UTC(2024, 1, 28) / 1000;
const TWO = (value: number) => String(Math.floor(value)).padStart(2, '0');

/** An instant as the style writes it; times are whole multiples of a millisecond. */
function stamp(style: Style, seconds: number): string {
  const ms = Math.round((style.startS + seconds) * 1000);
  const number = (value: number, decimals: number) => value.toFixed(decimals).replace('.', style.decimalChar);
  switch (style.time) {
    case 's':
      return number(ms / 1000, 3);
    case 'ms':
      return String(ms);
    case 'us':
      return String(ms * 1000);
    case 'min':
      return number(ms / 60_000, 9);
    case 'epoch_s':
      return number(EPOCH_S + ms / 1000, 3);
    case 'epoch_ms':
      return String(EPOCH_S * 1000 + ms);
    case 'clock': {
      const day = ms % 86_400_000;
      const rest = String(day % 1000).padStart(3, '0');
      return `${TWO(day / 3_600_000)}:${TWO((day / 60_000) % 60)}:${TWO((day / 1000) % 60)}.${rest}`;
    }
    case 'iso8601':
      return new Date(EPOCH_S * 1000 + ms).toISOString();
  }
}

const bareName = (index: number) => `Kanal ü${index + 1}`;

function nameOf(style: Style, written: Written, index: number): string {
  return style.unitIn === 'brackets' ? `${bareName(index)} [${written.unit}]` : bareName(index);
}

function valueText(style: Style, written: Written, value: number | undefined): string {
  if (value === undefined) return style.blank;
  return asLogged(written, value).toFixed(written.decimals).replace('.', style.decimalChar);
}

const TIME_NAME = 'Stamp';
const clockName = (index: number) => `Stamp ${index + 1}`;

/** Header, units row and data rows, as cells. */
function cellsOf({ channels, rows, rateHz }: AnyTable, style: Style): string[][] {
  const at = (row: number) => stamp(style, row / rateHz);
  const value = (written: Written, row: number) => valueText(style, written, written.values[row]);
  const names = channels.map((written, i) => nameOf(style, written, i));
  const units = channels.map(({ unit }) => unit as string);
  const each = <T>(n: number, make: (i: number) => T) => Array.from({ length: n }, (_, i) => make(i));
  const withUnits = (header: string[], unitCells: string[]) =>
    style.unitIn === 'row' ? [header, unitCells] : [header];
  switch (style.layout) {
    case 'wide':
      return [
        ...withUnits([TIME_NAME, ...names], ['', ...units]),
        ...each(rows, (row) => [at(row), ...channels.map((one) => value(one, row))]),
      ];
    case 'rate':
      return [...withUnits(names, units), ...each(rows, (row) => channels.map((one) => value(one, row)))];
    case 'held':
      return [
        ...withUnits([TIME_NAME, ...names], ['', ...units]),
        ...each(rows * HOLD_ROWS, (tick) => [
          stamp(style, tick / (rateHz * HOLD_ROWS)),
          ...channels.map((one) => value(one, Math.floor(tick / HOLD_ROWS))),
        ]),
      ];
    case 'own time':
      return [
        ...withUnits(
          [TIME_NAME, ...names.flatMap((name, i) => [name, clockName(i)])],
          ['', ...units.flatMap((unit) => [unit, ''])],
        ),
        ...each(rows, (row) => [
          at(row),
          ...channels.flatMap((one, i) => [value(one, row), stamp(style, row / rateHz + i * OWN_TIME_PHASE_S)]),
        ]),
      ];
    case 'long':
      return [
        ['Stamp', 'Kanal', 'Wert', 'Einheit'],
        ...each(rows, (row) =>
          channels.map((one, i) => [at(row), names[i], value(one, row), style.unitIn === 'row' ? one.unit : '']),
        ).flat(),
      ];
  }
}

function lineOf(cells: readonly string[], style: Style): string {
  const written = cells.map((cell) => {
    const mustQuote = style.quoted || cell.includes(style.delimiter);
    return mustQuote ? `"${cell.replaceAll('"', '""')}"` : cell + style.padding;
  });
  return written.join(style.delimiter) + (style.trailingDelimiter && cells.length > 1 ? style.delimiter : '');
}

function encoded(text: string, encoding: Style['encoding']): Buffer {
  switch (encoding) {
    case 'utf-8':
      return Buffer.from(text, 'utf8');
    case 'utf-8 with mark':
      return Buffer.from(`\ufeff${text}`, 'utf8');
    case 'utf-16le':
      return Buffer.from(`\ufeff${text}`, 'utf16le');
    case 'utf-16be':
      return Buffer.from(`\ufeff${text}`, 'utf16le').swap16();
    case 'windows-1252':
      return Buffer.from(text, 'latin1');
  }
}

function mappingOf(table: AnyTable, style: Style): Mapping {
  const channels = Object.fromEntries(
    table.channels.map((written, i) => {
      const name = nameOf(style, written, i);
      return [
        written.id,
        {
          column: name,
          ...(style.unitIn === 'mapping' && { unit: written.unit }),
          ...(written.id === 'manifold_pressure' && { reference: written.againstKpa > 0 ? 'gauge' : 'absolute' }),
          ...(style.layout === 'own time' && { time: clockName(i) }),
        },
      ];
    }),
  );
  const dialect = {
    delimiter: style.delimiter,
    decimalChar: style.decimalChar,
    skipRows: style.preamble.length,
    headerRowCount: style.unitIn === 'row' && style.layout !== 'long' ? (2 as const) : (1 as const),
  };
  return {
    pullgate: 'map/1',
    ...(style.told && { dialect }),
    ...(style.layout === 'long' && {
      layout: 'long' as const,
      long: { name: 'Kanal', value: 'Wert', ...(style.unitIn === 'row' && { unit: 'Einheit' }) },
    }),
    time: style.layout === 'rate' ? { rate: table.rateHz } : { column: TIME_NAME, unit: style.time },
    channels: channels as Mapping['channels'],
    missing: ['blank cell', '-9999'],
  };
}

/** The file that a logger of this style writes of the table, and the mapping that reads it. */
export function writeTable(table: AnyTable, style: Style): WrittenFile {
  const [header, ...rest] = cellsOf(table, style).map((cells) => lineOf(cells, style));
  const rows = rest.flatMap((line, i) =>
    style.commentEvery > 0 && i > 2 && i % style.commentEvery === 0 ? ['# mark set', line] : [line],
  );
  const text = [...style.preamble, header, ...rows, ''].join(style.newline);
  return { bytes: encoded(text, style.encoding), mapping: mappingOf(table, style) };
}
