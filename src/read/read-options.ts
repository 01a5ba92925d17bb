import type { Dialect } from './table.ts';

/** Pieces of the dialect that the user gave; each one given stands above what the reader would find out. */
export type DialectOverride = { readonly [K in keyof Dialect]?: Dialect[K] | undefined };

export interface ReadOptions {
  readonly dialect?: DialectOverride | undefined;
  /** Texts that mean "no value" besides the common ones. */
  readonly missing?: readonly string[] | undefined;
  /** Columns whose name it refuses are never kept. */
  readonly keep?: ((columnName: string) => boolean) | undefined;
  /** Columns whose name it refuses are never named in a note. */
  readonly mayShow?: ((columnName: string) => boolean) | undefined;
  /**
   * Rows come at a known rate and no column tells the time: a row of blank cells counts like any other, and a file without
   * any delimiter may be a log of one column.
   */
  readonly timeByRow?: boolean | undefined;
}

/** Read once, in order. A chunk's memory may be reused when the next chunk is asked for. */
export interface ByteChunks extends Iterable<Uint8Array> {
  /** How many bytes there will be, where that is known once reading has begun; only for making room in time. */
  readonly bytes?: number | undefined;
}

export interface ReadSource {
  readonly chunks: ByteChunks;
  /** How messages call the file. */
  readonly name: string;
}

/** Where in the file, for a message. */
export function atLine(name: string, line: number): string {
  return `${name}, line ${line}`;
}
