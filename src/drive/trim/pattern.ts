import type { Cell } from './cells.ts';

/** How the total trim runs over load. */
export type PatternKind =
  | 'lean at idle, fading with load'
  | 'lean, growing with load'
  | 'lean everywhere alike'
  | 'rich at idle, fading with load'
  | 'rich, growing with load'
  | 'rich everywhere alike'
  | 'none';

export interface TrimPattern {
  readonly kind: PatternKind;
  /** What the cells show, one sentence with numbers. */
  readonly evidence: string;
  /** Dwell-weighted level over the judged cells, %. */
  readonly levelPercent: number;
}

/** Common practice, no source. */
const LEAST_CONTRAST = 4;
const CONTRAST_SHARE = 0.4;
/** Sound calibrations differ from cell to cell by about this, %: added to the standard error of each cell. */
const CELL_SCATTER = 1;
const ALIKE_PERCENT = 2.5;
const ALIKE_SHARE = 0.35;
const Z95 = 1.96;

const standardError = (cell: Cell) => Math.hypot((cell.highPercent - cell.lowPercent) / (2 * Z95), CELL_SCATTER);

interface Contrast {
  readonly difference: number;
  readonly half: number;
}

const clear = (c: Contrast, level: number) =>
  Math.abs(c.difference) >= Math.max(LEAST_CONTRAST, CONTRAST_SHARE * Math.abs(level)) &&
  Math.abs(c.difference) > c.half;

function pooled(cells: readonly Cell[]): { level: number; se: number } {
  const weights = cells.map((cell) => 1 / standardError(cell) ** 2);
  const total = weights.reduce((a, b) => a + b, 0);
  return {
    level: cells.reduce((sum, cell, i) => sum + weights[i] * cell.medianPercent, 0) / total,
    se: Math.sqrt(1 / total),
  };
}

/** Change of the cell medians over the visited load by a weighted straight line, with its 95 % half width. */
function riseOverLoad(cells: readonly Cell[]): (Contrast & { from: number; to: number }) | undefined {
  const placed = cells.filter((cell) => Number.isFinite(cell.meanLoad));
  if (placed.length < 2) return undefined;
  const from = Math.min(...placed.map((cell) => cell.meanLoad));
  const to = Math.max(...placed.map((cell) => cell.meanLoad));
  if (to - from < 8) return undefined;
  const w = placed.map((cell) => 1 / standardError(cell) ** 2);
  const sum = w.reduce((a, b) => a + b, 0);
  const mx = placed.reduce((s, cell, i) => s + w[i] * cell.meanLoad, 0) / sum;
  const my = placed.reduce((s, cell, i) => s + w[i] * cell.medianPercent, 0) / sum;
  const xx = placed.reduce((s, cell, i) => s + w[i] * (cell.meanLoad - mx) ** 2, 0);
  const xy = placed.reduce((s, cell, i) => s + w[i] * (cell.meanLoad - mx) * (cell.medianPercent - my), 0);
  const slope = xy / xx;
  const chi2 = placed.reduce(
    (s, cell, i) => s + w[i] * (cell.medianPercent - my - slope * (cell.meanLoad - mx)) ** 2,
    0,
  );
  const scale = placed.length > 2 ? Math.max(1, Math.sqrt(chi2 / (placed.length - 2))) : 1;
  return { difference: slope * (to - from), half: Z95 * scale * Math.sqrt(1 / xx) * (to - from), from, to };
}

const percent = (value: number) => `${value >= 0 ? '+' : ''}${value.toFixed(1)} %`;

/** The pattern of the judged cells, only where their intervals support it. */
export function trimPattern(cells: readonly Cell[], loadUnit: string): TrimPattern {
  const judged = cells.filter((cell) => cell.judged);
  const dwell = judged.reduce((sum, cell) => sum + cell.dwellS, 0);
  const levelPercent = judged.reduce((sum, cell) => sum + cell.dwellS * cell.medianPercent, 0) / dwell;
  const none = (evidence: string): TrimPattern => ({ kind: 'none', evidence, levelPercent });
  if (judged.length < 2) {
    return none('Only one operating region was judged, so no pattern over load can be read.');
  }
  const idle = judged.find((cell) => cell.region.idle);
  const offIdle = judged.filter((cell) => !cell.region.idle);
  const rise = riseOverLoad(offIdle);
  const middle = rise ? (rise.from + rise.to) / 2 : Number.POSITIVE_INFINITY;
  const light = pooled(rise ? offIdle.filter((cell) => cell.meanLoad <= middle) : offIdle);
  const heavy = pooled(rise ? offIdle.filter((cell) => cell.meanLoad >= middle) : offIdle);
  const found = (kind: PatternKind, evidence: string): TrimPattern => ({ kind, evidence, levelPercent });

  const candidates: { size: number; pattern: TrimPattern }[] = [];
  if (idle) {
    const difference = idle.medianPercent - light.level;
    const half = Z95 * Math.hypot(standardError(idle), light.se);
    const strongest = Math.max(Math.abs(idle.medianPercent), Math.abs(light.level));
    if (clear({ difference, half }, strongest)) {
      const evidence = `Total trim is ${percent(idle.medianPercent)} at idle and ${percent(light.level)} off idle, a difference of ${percent(difference)} ± ${half.toFixed(1)} %.`;
      const kind: PatternKind | undefined =
        Math.abs(idle.medianPercent) >= Math.abs(light.level)
          ? idle.medianPercent > 0
            ? 'lean at idle, fading with load'
            : 'rich at idle, fading with load'
          : light.level > 0
            ? 'lean, growing with load'
            : 'rich, growing with load';
      candidates.push({ size: Math.abs(difference), pattern: found(kind, evidence) });
    }
  }
  if (rise && clear(rise, Math.max(Math.abs(light.level), Math.abs(heavy.level)))) {
    const evidence = `Off idle, total trim changes by ${percent(rise.difference)} ± ${rise.half.toFixed(1)} % from ${rise.from.toFixed(0)} to ${rise.to.toFixed(0)} ${loadUnit} load.`;
    const grows = Math.abs(heavy.level) >= Math.abs(light.level);
    const positive = (grows ? heavy.level : light.level) > 0;
    const kind: PatternKind = grows
      ? positive
        ? 'lean, growing with load'
        : 'rich, growing with load'
      : positive
        ? 'lean at idle, fading with load'
        : 'rich at idle, fading with load';
    candidates.push({ size: Math.abs(rise.difference), pattern: found(kind, evidence) });
  }
  const best = candidates.sort((a, b) => b.size - a.size)[0];
  if (best) return best.pattern;

  const lowest = Math.min(...judged.map((cell) => cell.medianPercent));
  const highest = Math.max(...judged.map((cell) => cell.medianPercent));
  const alike = Math.max(ALIKE_PERCENT, ALIKE_SHARE * Math.abs(levelPercent));
  const evidence = `The ${judged.length} judged cells lie between ${percent(lowest)} and ${percent(highest)}.`;
  if (Math.abs(levelPercent) >= LEAST_CONTRAST && highest - lowest <= 2 * alike && lowest * highest > 0) {
    return found(levelPercent > 0 ? 'lean everywhere alike' : 'rich everywhere alike', evidence);
  }
  return none(`${evidence} No pattern over load is supported by their intervals.`);
}
