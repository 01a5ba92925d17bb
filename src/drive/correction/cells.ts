import type { Build } from '../../build-sheet/build.ts';
import type { Drive } from '../drive.ts';
import type { CellRegion } from '../trim/cells.ts';
import { trimGrid } from '../trim/grid.ts';
import { type LoadAxis, loadAxis } from '../trim/load-axis.ts';
import { type BankTrims, totalTrim } from '../trim/total-trim.ts';
import { fullLoadCells } from './full-load.ts';

/** How much fuel an operating region needs over what it is given. */
export interface CorrectionCell {
  readonly source: 'closed loop' | 'full load';
  readonly region: CellRegion;
  /** Fuel needed over fuel given: above 1, more fuel is needed. */
  readonly ratio: number;
  readonly low: number;
  readonly high: number;
  /** Independent readings that the data are worth. */
  readonly samples: number;
  readonly seconds: number;
  readonly enough: boolean;
}

export interface CorrectionField {
  readonly axis: Pick<LoadAxis, 'name' | 'unit'> | undefined;
  readonly cells: readonly CorrectionCell[];
  /** The trims of these banks were still being learnt to the end of the log. */
  readonly stillLearning: readonly number[];
}

/** A trim that is not logged may hold this much, %. Common practice, no source. */
const UNLOGGED_PERCENT: Readonly<Record<BankTrims['parts'], number>> = { both: 0, long: 3, short: 5 };

const ratioOf = (trimPercent: number) => 1 + trimPercent / 100;

/** Cells of closed loop. With two banks the interval spans both, so that banks that disagree leave none to correct. */
function closedLoopCells(banks: readonly BankTrims[]): CorrectionCell[] {
  const byRegion = new Map<string, CorrectionCell>();
  for (const { cells, parts } of banks) {
    const wide = UNLOGGED_PERCENT[parts];
    for (const { region, medianPercent, lowPercent, highPercent, effectiveN, dwellS, judged } of cells) {
      const own: CorrectionCell = {
        source: 'closed loop',
        region,
        ratio: ratioOf(medianPercent),
        low: ratioOf(lowPercent - wide),
        high: ratioOf(highPercent + wide),
        samples: effectiveN,
        seconds: dwellS,
        enough: judged,
      };
      const other = byRegion.get(region.key);
      byRegion.set(region.key, other ? both(other, own) : own);
    }
  }
  return [...byRegion.values()];
}

function both(a: CorrectionCell, b: CorrectionCell): CorrectionCell {
  return {
    ...a,
    ratio: Math.sqrt(a.ratio * b.ratio),
    low: Math.min(a.low, b.low),
    high: Math.max(a.high, b.high),
    samples: Math.min(a.samples, b.samples),
    seconds: Math.min(a.seconds, b.seconds),
    enough: a.enough && b.enough,
  };
}

/** What closed loop and full load say of the fuelling by engine speed and load; nothing where the log holds neither. */
export function correctionField(
  drive: Drive,
  build: Build,
  from: readonly CorrectionCell['source'][] = ['closed loop', 'full load'],
): CorrectionField {
  const hasTrims =
    from.includes('closed loop') &&
    drive.recording.channels.has('engine_speed') &&
    trimGrid(drive.recording).banks.length > 0;
  const survey = hasTrims ? totalTrim(drive) : undefined;
  const axis = survey?.axis ?? loadAxis(drive.recording);
  const banks = survey?.banks ?? [];
  return {
    axis,
    cells: [...closedLoopCells(banks), ...(from.includes('full load') ? fullLoadCells(drive, build, axis) : [])],
    stillLearning: banks.filter((b) => b.adaptation.evident && !b.adaptation.settles).map((b) => b.bank),
  };
}
