import { picked } from '../../signal/picked.ts';
import type { KeptTrims } from './cells.ts';
import type { TrimGrid } from './grid.ts';
import type { LoadAxis } from './load-axis.ts';
import { type PurgeStep, purgeSteps } from './purge.ts';
import { FINE, type Partition, regionBook } from './regions.ts';
import { TRIM_CODE, type TrimSelection } from './selection.ts';

/** Everything that is the same for both banks. */
export interface TrimField {
  readonly grid: TrimGrid;
  readonly selection: TrimSelection;
  readonly axis: LoadAxis | undefined;
  readonly load: Float64Array;
}

export interface Kept extends KeptTrims {
  /** Per kept time: its index on the grid. */
  readonly from: Uint32Array;
}

/** The judged moments of a series of trims, with their regions. */
export function keptTrims(field: TrimField, values: Float64Array, quantum: number, partition: Partition): Kept {
  const { grid, selection, axis, load } = field;
  const all = new Uint32Array(values.length);
  let n = 0;
  for (let i = 0, size = values.length; i < size; i++) {
    if (selection.reason[i] === TRIM_CODE.kept && Number.isFinite(values[i])) all[n++] = i;
  }
  const from = all.subarray(0, n);
  const rpm = picked(selection.rpm, from);
  const loads = picked(load, from);
  const book = regionBook(partition, axis);
  const region = new Uint16Array(n);
  const warmedThrough = new Uint8Array(n);
  for (let k = 0; k < n; k++) {
    region[k] = book.indexAt(selection.idle[from[k]] === 1, rpm[k], loads[k]);
    warmedThrough[k] = selection.warmth.plateau[from[k]];
  }
  return {
    time: picked(grid.time, from),
    values: picked(values, from),
    rpm,
    load: loads,
    stepS: grid.stepS,
    quantumPercent: quantum,
    regions: book.regions,
    region,
    warmedThrough,
    from,
  };
}

/** How far engine speed (rpm or share) and load (cell widths) may stray from their mean for the operating point to be the same. */
const SAME_RPM = 250;
const SAME_RPM_SHARE = 0.12;
const SAME_LOAD_WIDTHS = 1.2;
const LONGEST_BREAK_S = 3;

/** Stretches of kept times (end exclusive) in which engine speed and load stay put. */
function stretchesAtOnePoint(field: TrimField, kept: Kept): { from: number; to: number }[] {
  const stretches: { from: number; to: number }[] = [];
  const reach = SAME_LOAD_WIDTHS * (field.axis?.width ?? Number.POSITIVE_INFINITY);
  const idle = (k: number) => field.selection.idle[kept.from[k]];
  let from = 0;
  let rpm = 0;
  let load = 0;
  for (let k = 0, size = kept.time.length; k < size; k++) {
    const n = k - from;
    const goesOn =
      n === 0 ||
      (kept.time[k] - kept.time[k - 1] <= LONGEST_BREAK_S + kept.stepS &&
        idle(k) === idle(k - 1) &&
        Math.abs(kept.rpm[k] - rpm / n) <= Math.max(SAME_RPM, (SAME_RPM_SHARE * rpm) / n) &&
        !(Math.abs(kept.load[k] - load / n) > reach));
    if (!goesOn) {
      stretches.push({ from, to: k });
      from = k;
      rpm = 0;
      load = 0;
    }
    rpm += kept.rpm[k];
    load += kept.load[k];
  }
  if (kept.time.length > from) stretches.push({ from, to: kept.time.length });
  return stretches;
}

/** The judged moments of each bank in the finest regions. */
const finelyKept = (field: TrimField) =>
  field.grid.banks.map((bank) => keptTrims(field, bank.total, bank.stepPercent, FINE));

/** Takes purge-like steps out of the kept times; with what is left of each bank, in the finest regions. */
export function markPurges(field: TrimField): {
  readonly purges: readonly PurgeStep[];
  readonly fine: readonly Kept[];
} {
  const found: PurgeStep[] = [];
  const before = finelyKept(field);
  for (const kept of before) {
    for (const { from, to } of stretchesAtOnePoint(field, kept)) {
      found.push(...purgeSteps(kept.time.subarray(from, to), kept.values.subarray(from, to)));
    }
  }
  if (found.length === 0) return { purges: found, fine: before };
  const { time } = field.grid;
  for (let i = 0, size = time.length; i < size; i++) {
    if (field.selection.reason[i] !== TRIM_CODE.kept) continue;
    if (found.some((step) => time[i] >= step.startS && time[i] <= step.endS)) {
      field.selection.reason[i] = TRIM_CODE['purge-like step'];
    }
  }
  return { purges: found.sort((a, b) => a.startS - b.startS), fine: finelyKept(field) };
}
