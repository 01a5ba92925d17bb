import { Option } from 'commander';
import type { DefineCommand } from '../commands.ts';
import { EXIT } from '../io.ts';

/** Options of `limits` as commander hands them over. */
interface LimitsOptions {
  readonly build?: string;
  readonly format: 'terminal' | 'json';
}

export const defineLimits: DefineCommand = (program, io, exit) => {
  program
    .command('limits')
    .description('the limits in force for a build sheet, and where each came from')
    .option('-b, --build <file>', 'build sheet; left out: the nearest pullgate.build.json, else the defaults')
    .addOption(new Option('-f, --format <format>', 'how to print it').choices(['terminal', 'json']).default('terminal'))
    .action(async ({ build, format }: LimitsOptions) => {
      const { runLimits } = await import('../run-limits.ts');
      io.out(runLimits(build, format, io));
      exit(EXIT.open);
    });
};
