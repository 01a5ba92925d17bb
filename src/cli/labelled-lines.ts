import { wrap } from '../render/terminal/wrap.ts';

const LABEL = 14;

/** Texts under one label: it stands before the first of them. */
export function labelledLines(label: string, texts: readonly string[], width: number): string[] {
  const rest = ' '.repeat(LABEL);
  return texts.flatMap((text, i) =>
    wrap(text, width, { first: i === 0 ? label.padEnd(LABEL) : rest, rest: `${rest}  ` }),
  );
}
