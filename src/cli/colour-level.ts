import type { Io } from './io.ts';

type Level = 0 | 1 | 2 | 3;

/**
 * How much colour standard output takes. `--no-color` first, then FORCE_COLOR, NO_COLOR, TERM=dumb, then what the terminal says of itself.
 * FORCE_COLOR and NO_COLOR count when they are set and not empty (force-color.org, no-color.org); Node takes them in the same order.
 */
export function colourLevel({ env, stdoutIsTerminal }: Pick<Io, 'env' | 'stdoutIsTerminal'>, wanted: boolean): Level {
  if (!wanted) return 0;
  if (env.FORCE_COLOR) return forcedLevel(env.FORCE_COLOR);
  if (env.NO_COLOR || env.TERM === 'dumb' || !stdoutIsTerminal) return 0;
  if (/truecolor|24bit/.test(env.COLORTERM ?? '')) return 3;
  return /256/.test(env.TERM ?? '') ? 2 : 1;
}

/** 1, 2 and 3 name a level and 0 asks for none; anything else asks for colour without saying how much. */
function forcedLevel(text: string): Level {
  if (text === '0' || text === 'false') return 0;
  return text === '2' ? 2 : text === '3' ? 3 : 1;
}
