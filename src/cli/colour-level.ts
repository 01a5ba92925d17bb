import type { Io } from './io.ts';

type Level = 0 | 1 | 2 | 3;

/** How much colour standard output takes. `--no-color` first, then FORCE_COLOR, NO_COLOR, TERM=dumb, then what the terminal says of itself. */
export function colourLevel({ env, stdoutIsTerminal }: Pick<Io, 'env' | 'stdoutIsTerminal'>, wanted: boolean): Level {
  if (!wanted) return 0;
  const forced = env.FORCE_COLOR;
  if (forced !== undefined) return forcedLevel(forced);
  if (env.NO_COLOR || env.TERM === 'dumb' || !stdoutIsTerminal) return 0;
  if (/truecolor|24bit/.test(env.COLORTERM ?? '')) return 3;
  return /256/.test(env.TERM ?? '') ? 2 : 1;
}

function forcedLevel(text: string): Level {
  if (text === '0' || text === 'false') return 0;
  return text === '2' ? 2 : text === '3' ? 3 : 1;
}
