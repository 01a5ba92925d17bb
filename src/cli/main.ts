import { processIo } from './io.ts';
import { runCli } from './run-cli.ts';

// Everything is written by now. To end by itself, Node would wait for machine code that it still compiles in the background.
void runCli(process.argv.slice(2), processIo()).then((code) => process.exit(code));
