import type { Analyser } from '../analysers/analyser.ts';

/** A settings file as text, and its name as shown to people. */
export interface SheetText {
  readonly text: string;
  readonly name: string;
}

/** All that an assessment needs from outside. */
export interface LogInput {
  /** The log's name as shown to people. */
  readonly name: string;
  readonly chunks: Iterable<Uint8Array>;
  /** Left out: the columns are guessed, and the report says so. */
  readonly mapping?: SheetText | undefined;
  /** Without a mapping: files nearby that may be meant as one. */
  readonly mappingsNear?: readonly string[] | undefined;
  readonly build: SheetText;
  readonly version: string;
  /** Left out: all. */
  readonly analysers?: readonly Analyser[] | undefined;
  /** Trouble codes read by hand. */
  readonly codes?: readonly string[] | undefined;
}
