const BLOCKS = '▁▂▃▄▅▆▇█';
const ASCII = '_.-=+*#@';

/** The lowest and the highest mark. */
export function sparkMarks(ascii: boolean): [string, string] {
  const marks = ascii ? ASCII : BLOCKS;
  return [marks[0], marks[marks.length - 1]];
}

/** A course of values from 0 to 1 as one line of text: Unicode blocks, or ASCII where the terminal has none. A blank where there is no value. */
export function sparkline(trace: readonly (number | null)[], ascii: boolean): string {
  const marks = ascii ? ASCII : BLOCKS;
  return trace
    .map((value) => (value === null ? ' ' : marks[Math.min(marks.length - 1, Math.floor(value * marks.length))]))
    .join('');
}

/** Every so many neighbours as one, so that the line is no longer than `most`. */
export function shortened(trace: readonly (number | null)[], most: number): (number | null)[] {
  const each = Math.ceil(trace.length / most);
  if (each <= 1) return [...trace];
  return Array.from({ length: Math.ceil(trace.length / each) }, (_, i) => {
    const known = trace.slice(i * each, (i + 1) * each).filter((value) => value !== null);
    return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
  });
}
