import { processIo } from './io.ts';
import { runCli } from './run-cli.ts';

const io = processIo();

void runCli(process.argv.slice(2), io).then((code) => {
  process.exitCode = code;
  // Node would wait for machine code that it still compiles in the background. A terminal may still be writing, all else is written.
  if (!io.stdoutIsTerminal && !io.stderrIsTerminal) process.exit();
});
