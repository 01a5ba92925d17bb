import { processIo } from './io.ts';
import { runCli } from './run-cli.ts';

void runCli(process.argv.slice(2), processIo()).then((code) => {
  process.exitCode = code;
});
