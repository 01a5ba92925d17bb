/** Everything of the process that a command may touch. */
export interface Io {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly cwd: string;
  readonly stdoutIsTerminal: boolean;
  readonly stderrIsTerminal: boolean;
  /** Columns of the terminal; undefined where standard output is none. */
  readonly columns: number | undefined;
  /** Data. */
  readonly out: (text: string) => void;
  /** Messages. */
  readonly err: (text: string) => void;
}

export const EXIT = { open: 0, closed: 1, failed: 2 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

export function processIo(): Io {
  return {
    env: process.env,
    cwd: process.cwd(),
    stdoutIsTerminal: process.stdout.isTTY === true,
    stderrIsTerminal: process.stderr.isTTY === true,
    columns: process.stdout.isTTY ? process.stdout.columns : undefined,
    out: writer(process.stdout),
    err: writer(process.stderr),
  };
}

/** Writes until the reader goes away: a closed pipe ends the writing quietly, any other failure is ours. */
function writer(stream: NodeJS.WriteStream): (text: string) => void {
  let closed = false;
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
    closed = true;
  });
  return (text) => {
    if (!closed && text !== '') stream.write(text);
  };
}
