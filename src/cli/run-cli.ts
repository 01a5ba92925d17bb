import { Command, CommanderError } from 'commander';
import { UserError } from '../kernel/user-error.ts';
import { printable } from '../render/terminal/printable.ts';
import { COMMANDS } from './commands.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { printMessage } from './print-message.ts';
import { VERSION } from './version.ts';

const EXIT_CODES = `
Exit codes:
  0  the gate is open
  1  the gate is closed, or nothing could be assessed
  2  the run itself failed: usage, unreadable input, invalid mapping or build sheet`;

/** One run of the program: arguments in, exit code out. */
export async function runCli(args: readonly string[], io: Io): Promise<ExitCode> {
  let code: ExitCode = EXIT.open;
  const program = new Command('pullgate')
    .description(
      'Reads a base-run datalog, judges it with reasons and numbers, and opens or closes the gate before the next step.',
    )
    .version(VERSION, '-V, --version')
    .addHelpText('after', EXIT_CODES)
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      getOutHelpWidth: () => io.columns ?? 80,
      getErrHelpWidth: () => io.columns ?? 80,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
      outputError: (text, write) => write(usageMessage(text)),
    })
    .exitOverride();
  for (const define of COMMANDS) {
    define(program, io, (result) => {
      code = result;
    });
  }
  try {
    await program.parseAsync(args, { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.open : EXIT.failed;
    if (error instanceof UserError) printMessage(io, error.message);
    else printFault(io, error);
    return EXIT.failed;
  }
}

const MISSING_LOG = 'Name a log, a folder, a pattern, or - for standard input.';

/** What commander says of wrong usage, as our own messages look, and what to do where it says no more than what is wrong. */
function usageMessage(text: string): string {
  const told = text.trimEnd().replace(/^error: /, 'pullgate: ');
  const path = /unknown command '([^'\n]*[./\\*][^'\n]*)'/.exec(told)?.[1];
  if (path !== undefined) return `${told}. To assess a log: pullgate check ${printable(path)}\n`;
  if (/missing required argument 'log'/.test(told)) return `${told}. ${MISSING_LOG}\n`;
  return `${told}\n${/\(Did you mean|Allowed choices/.test(told) ? '' : 'pullgate --help lists the commands, pullgate COMMAND --help their options.\n'}`;
}

/** Anything but a UserError is our own slip. The trace helps us, not the person at the keyboard, so it is shown only when asked for. */
function printFault(io: Io, error: unknown): void {
  const told = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  printMessage(io, `a fault in pullgate itself (${told}). Set PULLGATE_DEBUG=1 for the details and report it.`);
  if (io.env.PULLGATE_DEBUG && error instanceof Error) io.err(`${error.stack}\n`);
}
