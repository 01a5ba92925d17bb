import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { UserError } from '../kernel/user-error.ts';
import { BUILD_FILE, MAP_FILE } from '../run/find-sheets.ts';
import { writeAtomically } from '../run/write-atomically.ts';
import { schemaText } from './schema-text.ts';
import { BUILD_STARTER } from './starter-build.ts';
import { MAP_STARTER } from './starter-map.ts';

/** The starters, and beside them the schemas that their "$schema" names: an editor needs no network for them. */
const STARTERS = [
  { name: BUILD_FILE, text: () => BUILD_STARTER },
  { name: MAP_FILE, text: () => MAP_STARTER },
  { name: 'pullgate.build.schema.json', text: () => schemaText('build') },
  { name: 'pullgate.map.schema.json', text: () => schemaText('map') },
];

/** Writes all files, or none, and says what to do with them. */
export function writeStarters(folder: string, force: boolean): string {
  const there = STARTERS.filter(({ name }) => existsSync(join(folder, name)));
  if (there.length > 0 && !force) {
    const names = there.map(({ name }) => name).join(' and ');
    throw new UserError('already there; nothing was written.', names, 'Move it away, or write over it with --force.');
  }
  for (const { name, text } of STARTERS) writeAtomically(join(folder, name), text(), name);
  return [
    `Wrote ${BUILD_FILE} and ${MAP_FILE}.`,
    'Put the car and the column names of your log where they say FILL IN, and take the // from lines that apply.',
    'The two *.schema.json files beside them let an editor complete and explain every key; nothing else needs them.',
    'Then: pullgate check LOG.csv',
    '',
  ].join('\n');
}
