import { oncePer } from '../../kernel/once-per.ts';
import type { Drive } from '../drive.ts';
import { type Adaptation, adaptation } from './adaptation.ts';
import { type Cell, trimCells } from './cells.ts';
import { type Drift, driftBlocks, driftPastWarmUp } from './drift.ts';
import { type BankNumber, levelAt, type TrimBank, type TrimGrid, trimGrid } from './grid.ts';
import { type Kept, keptTrims, markPurges, type TrimField } from './kept.ts';
import { type LoadAxis, loadAxis } from './load-axis.ts';
import type { PurgeStep } from './purge.ts';
import { FINE, PARTITIONS, type Partition } from './regions.ts';
import { secondsByReason, TRIM_CODE, type TrimReason, type TrimSelection, trimSelection } from './selection.ts';
import { type TrimStop, trimStops } from './stops.ts';

/** What one bank's trims say. */
export interface BankTrims {
  readonly bank: BankNumber;
  readonly parts: TrimBank['parts'];
  readonly keptS: number;
  readonly adaptation: Adaptation;
  /** Cells that are held against the limit: of the settled part where early trims differ, else of the whole log. */
  readonly cells: readonly Cell[];
  /** Regions visited only while the trims still adapted. */
  readonly earlyCells: readonly Cell[];
  readonly drift: Drift;
  readonly stops: readonly TrimStop[];
}

export interface TrimSurvey {
  readonly grid: TrimGrid;
  readonly selection: TrimSelection;
  readonly seconds: readonly { readonly reason: TrimReason; readonly seconds: number }[];
  readonly keptS: number;
  readonly axis: LoadAxis | undefined;
  readonly partition: Partition;
  readonly banks: readonly BankTrims[];
  readonly purges: readonly PurgeStep[];
  /** Bank 2 minus bank 1 by cell, where both are logged. */
  readonly split: readonly Cell[] | undefined;
}

const judgedS = (cells: readonly Cell[]) => cells.reduce((sum, cell) => sum + (cell.judged ? cell.dwellS : 0), 0);
/** A partition serves when its judged cells hold this share of the time off idle. */
const SERVES = 0.6;

interface Divided {
  readonly partition: Partition;
  readonly kept: Kept;
  readonly cells: readonly Cell[];
}

/** The finest partition whose cells hold enough of the judged time, and what it makes of one bank. */
function divide(field: TrimField, bank: TrimBank, fine: Kept): Divided {
  let best: (Divided & { seconds: number }) | undefined;
  for (const partition of PARTITIONS) {
    const kept = partition === FINE ? fine : keptTrims(field, bank.total, bank.stepPercent, partition);
    const cells = trimCells(kept);
    const offIdle = cells.filter((cell) => !cell.region.idle);
    const all = offIdle.reduce((sum, cell) => sum + cell.dwellS, 0);
    const seconds = judgedS(offIdle);
    if (!best || seconds > 1.25 * best.seconds) best = { partition, kept, cells, seconds };
    if (seconds >= SERVES * all) break;
  }
  return best as Divided;
}

const UNSETTLED: Drift = {
  assessed: false,
  why: 'the trims were still adapting for most of the judged time, so drift cannot be told from adaptation',
};

function bankTrims(field: TrimField, bank: TrimBank, kept: Kept, fine: Kept, allCells: readonly Cell[]): BankTrims {
  const { blocks, blockS } = driftBlocks(fine);
  const adapting = adaptation({ blocks, blockS });
  const apart = adapting.evident && adapting.settles;
  const cells = apart ? trimCells(kept, (k) => kept.time[k] >= adapting.endS) : allCells;
  const judged = new Set(cells.filter((cell) => cell.judged).map((cell) => cell.region.key));
  const early = apart ? trimCells(kept, (k) => kept.time[k] < adapting.endS) : [];
  const settledBlocks = apart ? blocks.filter((block) => block.timeS >= adapting.endS) : blocks;
  return {
    bank: bank.bank,
    parts: bank.parts,
    keptS: kept.time.length * kept.stepS,
    adaptation: adapting,
    cells,
    earlyCells: early.filter((cell) => !judged.has(cell.region.key)),
    drift: adapting.evident && !apart ? UNSETTLED : driftPastWarmUp({ blocks: settledBlocks, blockS }),
    stops: trimStops(bank, kept.from, field.grid.stepS),
  };
}

function bankDifference(
  field: TrimField,
  partition: Partition,
  banks: readonly BankTrims[],
): readonly Cell[] | undefined {
  const [one, two] = field.grid.banks;
  if (!one || !two) return undefined;
  const difference = two.total.map((value, i) => value - one.total[i]);
  const kept = keptTrims(field, difference, Math.max(one.stepPercent, two.stepPercent), partition);
  const fromS = Math.max(
    ...banks.map((bank) => (bank.adaptation.evident && bank.adaptation.settles ? bank.adaptation.endS : 0)),
  );
  return trimCells(kept, (k) => kept.time[k] >= fromS);
}

/** Total trim over the whole log: what is judged, what is left out, by bank and operating region. */
export const totalTrim = oncePer((drive: Drive): TrimSurvey => {
  const grid = trimGrid(drive.recording);
  const selection = trimSelection(drive, grid);
  const axis = loadAxis(drive.recording);
  const load = axis ? levelAt(axis.channel, grid.time) : new Float64Array(grid.time.length).fill(Number.NaN);
  const field = { grid, selection, axis, load };
  const { purges, fine } = markPurges(field);
  const divided = grid.banks.length > 0 ? divide(field, grid.banks[0], fine[0]) : undefined;
  const partition = divided?.partition ?? FINE;
  const banks = grid.banks.map((bank, b) => {
    if (b === 0 && divided) return bankTrims(field, bank, divided.kept, fine[b], divided.cells);
    const kept = partition === FINE ? fine[b] : keptTrims(field, bank.total, bank.stepPercent, partition);
    return bankTrims(field, bank, kept, fine[b], trimCells(kept));
  });
  const seconds = secondsByReason(selection.reason, grid.stepS);
  return {
    grid,
    selection,
    seconds,
    keptS: seconds[TRIM_CODE.kept].seconds,
    axis,
    partition,
    banks,
    purges,
    split: bankDifference(field, partition, banks),
  };
});
