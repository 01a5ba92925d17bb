import type { Io } from './io.ts';

export interface ProgressLine {
  readonly show: (done: number) => void;
  readonly clear: () => void;
}

const ERASE_LINE = '\r\u001b[2K';

/** "3 of 20 logs" on standard error while a run goes on; nothing where that is no terminal. */
export function progressLine(io: Io, wanted: boolean, total: number): ProgressLine {
  if (!wanted || !io.stderrIsTerminal || io.env.TERM === 'dumb') return { show: () => {}, clear: () => {} };
  return {
    show: (done) => {
      if (done < total) io.err(`${done} of ${total} logs`);
    },
    clear: () => io.err(ERASE_LINE),
  };
}
