import type { Column } from '../read/table.ts';
import { findUpdates } from '../signal/held-values.ts';
import { quantile } from '../signal/quantile.ts';
import { finiteRows, pick } from './row-time.ts';

/** How the logger fills its rows. */
export interface Polling {
  /**
   * all: every column at every row; held: rows come faster than values, which are repeated; in turn: each row refreshes some of the columns
   * and repeats the others or leaves them blank.
   */
  readonly kind: 'all' | 'held' | 'in turn' | 'unknown';
  /** Columns that change often enough to tell. */
  readonly moving: number;
  /** Of these, usually new in one row. */
  readonly perRow: number;
  /** Whether the cells in between are blank rather than repeated. */
  readonly blank: boolean;
  /** Rows in which a column is usually refreshed once. */
  readonly roundRows: number;
}

/** Rows looked at. */
const MOST_ROWS = 5000;
const FEWEST_ROWS = 50;
const FEWEST_COLUMNS = 3;
/** A state that hardly ever changes says nothing of how rows are filled. */
const CHANGES_LEAST = 0.02;
/** Rows for which a value lasts before it counts as held. */
const HELD_LEAST = 1.6;
/** Share of cells between updates that are blank in a logger that leaves them so. */
const BLANK_LEAST = 0.4;
/** Columns in turn: a row refreshes at most this share of them. */
const TURN_MOST = 0.67;

interface Moving {
  /** Per row: 1 where the value is new. */
  readonly fresh: Uint8Array;
  readonly way: 'every row' | 'held' | 'blank';
}

/** How one column moves; undefined where it hardly does. */
function movingOf({ values: whole }: Column): Moving | undefined {
  const values = whole.subarray(0, MOST_ROWS);
  const rows = finiteRows(values) ?? Uint32Array.from(values.keys());
  if (rows.length < FEWEST_ROWS / 2) return undefined;
  const present = pick(values, rows);
  let changes = 0;
  for (let i = 1, n = present.length; i < n; i++) if (present[i] !== present[i - 1]) changes++;
  if (changes < CHANGES_LEAST * values.length) return undefined;
  const fresh = new Uint8Array(values.length);
  const body = values.length - rows[0];
  if (body - rows.length >= BLANK_LEAST * body) {
    for (const row of rows) fresh[row] = 1;
    return { fresh, way: 'blank' };
  }
  const { keep } = findUpdates(rows, present);
  for (const k of keep) fresh[rows[k]] = 1;
  return { fresh, way: present.length / keep.length >= HELD_LEAST ? 'held' : 'every row' };
}

/** How rows are filled, from which columns are new in the same rows. */
export function pollingOf(columns: readonly Column[]): Polling {
  const rows = Math.min(MOST_ROWS, columns[0]?.values.length ?? 0);
  const moving = columns
    .filter(({ kind, values }) => kind === 'number' && Math.min(MOST_ROWS, values.length) === rows)
    .flatMap((column) => movingOf(column) ?? []);
  const slow = moving.filter(({ way }) => way !== 'every row');
  const blank = slow.filter(({ way }) => way === 'blank').length > slow.length / 2;
  if (rows < FEWEST_ROWS || moving.length < FEWEST_COLUMNS) {
    return { kind: 'unknown', moving: moving.length, perRow: moving.length, blank, roundRows: 1 };
  }
  if (slow.length < moving.length / 2)
    return { kind: 'all', moving: moving.length, perRow: moving.length, blank: false, roundRows: 1 };
  const perRow = Float64Array.from({ length: rows }, (_, row) => slow.reduce((sum, { fresh }) => sum + fresh[row], 0));
  const roundRows = quantile(
    slow.map(
      ({ fresh }) =>
        rows /
        Math.max(
          1,
          fresh.reduce((sum, flag) => sum + flag, 0),
        ),
    ),
    0.5,
  );
  const active = perRow.filter((count) => count > 0);
  const typical = quantile(active, 0.5);
  const inTurn = quantile(active, 0.8) <= Math.max(1, TURN_MOST * slow.length) && slow.length >= FEWEST_COLUMNS;
  return {
    kind: inTurn ? 'in turn' : 'held',
    moving: slow.length,
    perRow: Math.max(1, Math.round(typical)),
    blank,
    roundRows,
  };
}
