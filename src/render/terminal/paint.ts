import type { Verdict } from '../../analysers/finding.ts';

/** Emphasis by colour. It only repeats what the words already say. */
export interface Paint {
  readonly verdict: (verdict: Verdict, text: string) => string;
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
}

export const noPaint: Paint = {
  verdict: (_verdict, text) => text,
  strong: (text) => text,
  faint: (text) => text,
};

export async function paintFor(level: 0 | 1 | 2 | 3): Promise<Paint> {
  return level === 0 ? noPaint : (await import('./chalk-paint.ts')).chalkPaint(level);
}
