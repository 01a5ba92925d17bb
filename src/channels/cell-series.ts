import type { Column } from '../read/table.ts';
import type { ChannelId } from './catalogue.ts';
import type { ChannelSource } from './mapping-schema.ts';

/** The cells of one mapped channel as logged, on their clock. */
export interface CellSeries {
  readonly id: ChannelId;
  readonly source: ChannelSource;
  readonly column: Pick<Column, 'name' | 'unitText'>;
  /** Seconds since the first row, one per cell, strictly increasing. */
  readonly time: Float64Array;
  /** NaN where the cell is blank or text. */
  readonly values: Float64Array;
  readonly labels: readonly string[];
  /** Per cell: index into `labels`, or -1; undefined where no cell is text. */
  readonly codes: Int32Array | undefined;
  readonly notes: readonly string[];
}
