import { isMeasured } from './classify-cell.ts';
import { trimCell } from './trim-cell.ts';

/** In order of preference where nothing else decides. */
export const DELIMITERS = ['\t', ';', ',', '|'] as const;

const NAMES: Record<string, string> = {
  '\t': 'tab',
  ';': 'semicolon',
  ',': 'comma',
  '|': 'pipe',
  ' ': 'aligned spaces',
};

export function delimiterName(delimiter: string): string {
  return NAMES[delimiter] ?? `"${delimiter}"`;
}

/** Occurrences of `delimiter` outside quotes. */
export function countDelimiters(line: string, delimiter: string, quoteChar: string): number {
  if (quoteChar === '' || !line.includes(quoteChar)) {
    let plain = 0;
    for (let at = line.indexOf(delimiter); at >= 0; at = line.indexOf(delimiter, at + 1)) plain++;
    return plain;
  }
  let count = 0;
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    if (line[i] === quoteChar) quoted = !quoted;
    else if (!quoted && line[i] === delimiter) count++;
  }
  return count;
}

/** Share of the cells that hold something and read as numbers or times. */
function measuredShare(lines: readonly string[], delimiter: string, quoteChar: string): number {
  let filled = 0;
  let measured = 0;
  for (const line of lines) {
    for (const raw of line.split(delimiter)) {
      const cell = trimCell(quoteChar === '' ? raw : raw.replaceAll(quoteChar, ''));
      if (cell === '') continue;
      filled++;
      if (isMeasured(cell)) measured++;
    }
  }
  return filled === 0 ? 0 : measured / filled;
}

function commonest(counts: readonly number[]): number {
  const tally = new Map<number, number>();
  let best = 0;
  for (const count of counts) {
    if (count === 0) continue;
    const times = (tally.get(count) ?? 0) + 1;
    tally.set(count, times);
    if (best === 0 || times > (tally.get(best) ?? 0)) best = count;
  }
  return best;
}

/** Lines looked at closely for each candidate. */
const LINES_WEIGHED = 12;

/** The last of the lines; the first, most likely the header, only where it is alone. */
function weighed<T>(lines: readonly T[]): readonly T[] {
  return lines.length > 1 ? lines.slice(1).slice(-LINES_WEIGHED) : lines;
}

/**
 * The delimiter that splits most lines into the same number of cells and leaves most cells readable as numbers; aligned
 * spaces only where nothing else does and nearly every line agrees. Undefined where the lines are a single column.
 */
export function sniffDelimiter(lines: readonly string[], quoteChar: string): string | undefined {
  const filled = lines.filter((line) => trimCell(line) !== '' && line[0] !== '#');
  let best: { delimiter: string; score: number } | undefined;
  for (const delimiter of DELIMITERS) {
    const counts = filled.map((line) => countDelimiters(line, delimiter, quoteChar));
    const count = commonest(counts);
    if (count === 0) continue;
    const agreeing = filled.filter((_, i) => counts[i] === count);
    const measured = measuredShare(weighed(agreeing), delimiter, quoteChar);
    const score = (agreeing.length / filled.length) * (0.2 + measured);
    if (!best || score > best.score * 1.001) best = { delimiter, score };
  }
  const spaced = filled.map((line) => trimCell(line).split(/ +/));
  const width = commonest(spaced.map((cells) => cells.length - 1)) + 1;
  const agreeing = spaced.filter((cells) => cells.length === width);
  if (width >= 2 && agreeing.length >= filled.length * 0.9 && agreeing.length >= 2) {
    const measured = measuredShare(
      weighed(agreeing).map((cells) => cells.join(' ')),
      ' ',
      '',
    );
    if (measured > 0.8 && (!best || best.score < 0.6)) return ' ';
  }
  return best?.delimiter;
}
