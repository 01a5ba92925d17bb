import type { DefineCommand } from '../commands.ts';
import { EXIT } from '../io.ts';

export const defineExplain: DefineCommand = (program, io, exit) => {
  program
    .command('explain')
    .description(
      'what an analyser asks and how it answers, or the rules about causes: formula, limits, sources, physics, cautions',
    )
    .argument(
      '[id]',
      'an analyser, limit or finding, such as injector-duty.peak; "causes", or one of them; left out: the list',
    )
    .action(async (id: string | undefined) => {
      const { explainText } = await import('../explain-text.ts');
      io.out(explainText(id, io.columns ?? 80));
      exit(EXIT.open);
    });
};
