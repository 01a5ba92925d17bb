import type { Io } from '../../src/cli/io.ts';
import { runCli } from '../../src/cli/run-cli.ts';
import type { Ended } from './run-program.ts';

/** Runs the program inside this process, for what needs no process of its own. */
export async function runHere(args: readonly string[], cwd: string, env: Record<string, string> = {}): Promise<Ended> {
  const told = { stdout: '', stderr: '' };
  const io: Io = {
    env,
    cwd,
    stdoutIsTerminal: false,
    stderrIsTerminal: false,
    columns: 100,
    out: (text) => {
      told.stdout += text;
    },
    err: (text) => {
      told.stderr += text;
    },
  };
  const status = await runCli(args, io);
  return { status, ...told };
}
