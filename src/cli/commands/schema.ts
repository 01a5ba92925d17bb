import { Argument } from 'commander';
import type { DefineCommand } from '../commands.ts';
import { EXIT } from '../io.ts';

const KINDS = ['build', 'map', 'report'] as const;
export type SchemaKind = (typeof KINDS)[number];

export const defineSchema: DefineCommand = (program, io, exit) => {
  program
    .command('schema')
    .description('print the JSON Schema of a file, so that an editor can complete and check it')
    .addArgument(new Argument('<kind>', 'build sheet, mapping or JSON report').choices(KINDS))
    .action(async (kind: SchemaKind) => {
      const { schemaText } = await import('../schema-text.ts');
      io.out(schemaText(kind));
      exit(EXIT.open);
    });
};
