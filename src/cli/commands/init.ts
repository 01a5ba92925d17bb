import type { DefineCommand } from '../commands.ts';
import { EXIT } from '../io.ts';

export const defineInit: DefineCommand = (program, io, exit) => {
  program
    .command('init')
    .description('write a commented starter build sheet and mapping into this folder')
    .option('--force', 'write over files that are already there', false)
    .action(async (options: { force: boolean }) => {
      const { writeStarters } = await import('../write-starters.ts');
      io.out(writeStarters(io.cwd, options.force));
      exit(EXIT.open);
    });
};
