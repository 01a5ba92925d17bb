import type { FailOn } from '../report/gate.ts';
import type { Summary } from '../report/report-schema.ts';
import type { Outcome } from '../report/summarise.ts';

/** How the reader wants it. */
export interface RenderStyle {
  /** Columns of text. */
  readonly width: number;
  /** chalk's levels: 0 none, 1 sixteen colours, 2 two hundred and fifty-six, 3 all. */
  readonly colour: 0 | 1 | 2 | 3;
  readonly failOn: FailOn;
  readonly quiet: boolean;
  /** Draw with ASCII only. */
  readonly ascii?: boolean;
  /** Whether the run covers more than one log. */
  readonly several: boolean;
}

/** Turns outcomes into text: `each` as every log ends, in input order, then `end` once. Either may have nothing to say. */
export interface Renderer {
  readonly each: (outcome: Outcome) => string;
  readonly end: (summary: Summary) => string;
}

export interface Format {
  readonly id: string;
  /** Of the files that hold it, without the dot. */
  readonly extension: string;
  /** The same for a folder with a file a log, where the plain extension is that of logs. */
  readonly inFolder?: string;
  readonly title: string;
  /** Set where the format draws the pulls. */
  readonly drawsTraces?: boolean;
  /** Set where the format draws courses of the pulls in text. */
  readonly drawsCourses?: boolean;
  /** Loads what the format needs, and only then. */
  readonly open: (style: RenderStyle) => Promise<Renderer>;
}
