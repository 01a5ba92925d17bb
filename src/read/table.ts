/** What the reader found out, or was told, about how the file is written. Terms follow the W3C "Metadata Vocabulary for Tabular Data". */
export interface Dialect {
  readonly delimiter: string;
  readonly quoteChar: string;
  readonly encoding: string;
  readonly decimalChar: '.' | ',';
  readonly commentPrefix: string | undefined;
  /** Lines before the header (preamble). */
  readonly skipRows: number;
  /** 1 = names; 2 = names, then units. */
  readonly headerRowCount: number;
}

/**
 * What a column's cells are: plain numbers; clock times `hh:mm:ss[.fff]` (values hold seconds since midnight);
 * ISO 8601 timestamps (values hold seconds since the epoch); or text (values are all NaN, see `codes`).
 */
export type CellKind = 'number' | 'clock' | 'timestamp' | 'text';

export interface Column {
  readonly name: string;
  /** The name that the header gives it, where an earlier column has that already. */
  readonly repeats: string | undefined;
  /** From the units row, where there is one. A unit inside the name stays in the name. */
  readonly unitText: string | undefined;
  readonly kind: CellKind;
  /** One per row; NaN where the cell is blank or not of the column's kind. */
  readonly values: Float64Array;
  /** Distinct texts of the cells that are not of the column's kind and not blank. */
  readonly labels: readonly string[];
  /** Per row: index into `labels`, or -1. Absent where the column has no such cell. */
  readonly codes: Int32Array | undefined;
}

/** A log as columns of numbers; the few cells that are no numbers are kept as coded labels. */
export interface Table {
  readonly dialect: Dialect;
  readonly columns: readonly Column[];
  readonly rowCount: number;
  /** 1-based line in the file of the first data row. */
  readonly firstDataLine: number;
  readonly bytes: number;
  readonly sha256: string;
  /** Things worth telling: replaced encoding, ragged rows, trailing delimiters. */
  readonly notes: readonly string[];
}
