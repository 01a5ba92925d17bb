import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { ANALYSERS } from '../../src/analysers/registry.ts';
import { analyserTable, TABLE_END, TABLE_START } from './analyser-table.ts';

const path = resolve(import.meta.dirname, '../../README.md');
const readme = readFileSync(path, 'utf8');
const start = readme.indexOf(TABLE_START);
const end = readme.indexOf(TABLE_END);
if (start < 0 || end < start) throw new Error('README.md has lost the marks around its table of analysers');
writeFileSync(
  path,
  `${readme.slice(0, start + TABLE_START.length)}\n${analyserTable(ANALYSERS)}\n${readme.slice(end)}`,
);
