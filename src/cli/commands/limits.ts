import type { DefineCommand } from '../commands.ts';
import { EXIT } from '../io.ts';

export const defineLimits: DefineCommand = (program, io, exit) => {
  program
    .command('limits')
    .description('the limits in force for a build sheet, and where each came from')
    .option('-b, --build <file>', 'build sheet; left out: the nearest pullgate.build.json, else the defaults')
    .action(async (options: { build?: string }) => {
      const { limitsText } = await import('../limits-text.ts');
      io.out(limitsText(options.build, io.cwd, io.columns ?? 80));
      exit(EXIT.open);
    });
};
