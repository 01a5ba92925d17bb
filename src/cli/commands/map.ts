import { InvalidArgumentError } from 'commander';
import type { DefineCommand } from '../commands.ts';

/** Options of `map` as commander hands them over. */
export interface MapOptions {
  readonly write: boolean;
  readonly out?: string;
  readonly force: boolean;
  readonly rate?: number;
}

function rate(text: string): number {
  const value = Number(text);
  if (!(value > 0) || !Number.isFinite(value)) throw new InvalidArgumentError('It is a number of rows per second.');
  return value;
}

export const defineMap: DefineCommand = (program, io, exit) => {
  program
    .command('map')
    .description('draft a mapping from names, units and values of a log, with how sure each guess is and why')
    .argument('<log>', 'a log, or - for standard input')
    .option('--write', 'save it as pullgate.map.json beside the log', false)
    .option('-o, --out <file>', 'save it as this file')
    .option('--force', 'write over a file that is already there', false)
    .option('--rate <hz>', 'rows per second, for a log without a time column', rate)
    .action(async (log: string, options: MapOptions) => {
      const { runMap } = await import('../run-map.ts');
      exit(await runMap(log, options, io));
    });
};
