import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const SRC = resolve(import.meta.dirname, '../src');

/** Which rooms a room may import from, its own aside. */
const PLAN: Readonly<Record<string, readonly string[]>> = {
  kernel: [],
  units: ['kernel'],
  signal: ['kernel'],
  engine: ['kernel', 'units'],
  read: ['kernel'],
  'build-sheet': ['kernel', 'units', 'engine'],
  channels: ['kernel', 'units', 'signal', 'engine', 'read'],
  drive: ['kernel', 'units', 'signal', 'engine', 'channels', 'build-sheet'],
  analysers: ['kernel', 'units', 'signal', 'engine', 'read', 'build-sheet', 'channels', 'drive'],
  report: ['kernel', 'units', 'signal', 'engine', 'read', 'build-sheet', 'channels', 'drive', 'analysers'],
  render: ['kernel', 'channels', 'analysers', 'report'],
  run: ['kernel', 'read', 'build-sheet', 'channels', 'drive', 'analysers', 'report', 'render'],
  cli: ['kernel', 'engine', 'build-sheet', 'channels', 'analysers', 'report', 'render', 'run'],
};

/** Packages and Node's own modules that a room may use. */
const OUTSIDE: Readonly<Record<string, readonly string[]>> = {
  kernel: ['jsonc-parser', 'zod/mini'],
  signal: ['simple-statistics'],
  read: ['papaparse', 'node:crypto'],
  'build-sheet': ['zod/mini'],
  channels: ['zod/mini'],
  analysers: ['zod/mini'],
  report: ['zod/mini'],
  render: ['chalk', 'cli-table3'],
  run: ['node:crypto', 'node:fs', 'node:path', 'tinyglobby'],
  cli: ['commander', 'node:fs', 'node:path', 'zod/mini'],
};

/** A room may need only the shapes of another: such imports carry no code. */
const TYPES_ONLY: Readonly<Record<string, readonly string[]>> = {
  channels: ['read'],
  drive: ['build-sheet'],
  analysers: ['read'],
  render: ['analysers'],
  report: ['read'],
};

interface Import {
  readonly file: string;
  readonly from: string;
  readonly typeOnly: boolean;
}

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => file.replaceAll('\\', '/'))
  .sort();

function importsOf(file: string): Import[] {
  const text = readFileSync(join(SRC, file), 'utf8');
  const statements = text.matchAll(/^(import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?'([^']+)'/gm);
  const dynamic = text.matchAll(/\bimport\('([^']+)'\)/g);
  return [
    ...[...statements].map((match) => ({ file, from: match[3], typeOnly: match[2] !== undefined })),
    ...[...dynamic].map((match) => ({ file, from: match[1], typeOnly: false })),
  ];
}

const roomOf = (file: string) => file.split('/')[0];
const imports = files.flatMap(importsOf);
const inside = imports
  .filter(({ from }) => from.startsWith('.'))
  .map((entry) => ({
    ...entry,
    target: relative(SRC, resolve(SRC, dirname(entry.file), entry.from)).replaceAll('\\', '/'),
  }));

describe('the house', () => {
  it('is read whole by this test', () => {
    expect(files.length).toBeGreaterThan(100);
    expect(inside.length).toBeGreaterThan(files.length);
  });

  it('has only the rooms of the plan', () => {
    expect([...new Set(files.map(roomOf))].sort()).toEqual(Object.keys(PLAN).sort());
  });

  it('imports downstairs only', () => {
    const wrong = inside
      .filter(({ target }) => !target.startsWith('..'))
      .filter(({ file, target }) => roomOf(target) !== roomOf(file) && !PLAN[roomOf(file)].includes(roomOf(target)))
      .map(({ file, target }) => `${file} imports ${target}`);
    expect(wrong).toEqual([]);
  });

  it('leaves src/ for the version alone', () => {
    const out = inside.filter(({ target }) => target.startsWith('..')).map(({ file, target }) => `${file} ${target}`);
    expect(out).toEqual(['cli/version.ts ../package.json']);
  });

  it('takes only shapes where only shapes are needed', () => {
    const wrong = inside
      .filter(({ file, target, typeOnly }) => TYPES_ONLY[roomOf(file)]?.includes(roomOf(target)) && !typeOnly)
      .map(({ file, target }) => `${file} runs code of ${target}`);
    expect(wrong).toEqual([]);
  });

  it('uses packages only in their rooms', () => {
    const wrong = imports
      .filter(({ from }) => !from.startsWith('.'))
      .filter(({ file, from }) => !(OUTSIDE[roomOf(file)] ?? []).includes(from))
      .map(({ file, from }) => `${file} uses ${from}`);
    expect(wrong).toEqual([]);
  });

  it('keeps analysers apart: none imports another', () => {
    const names = readdirSync(join(SRC, 'analysers')).filter((name) => isAnalyser(name));
    const wrong = inside
      .filter(
        ({ file, target }) =>
          roomOf(file) === 'analysers' && file !== 'analysers/registry.ts' && names.includes(target.slice(10)),
      )
      .map(({ file, target }) => `${file} imports ${target}`);
    expect(names.length).toBeGreaterThan(5);
    expect(wrong).toEqual([]);
  });

  it('has no clock, chance or process between reading and rendering', () => {
    const pure = files.filter((file) => !['run', 'cli'].includes(roomOf(file)));
    const wrong = pure.filter((file) =>
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.now\b|\bprocess\./.test(
        readFileSync(join(SRC, file), 'utf8'),
      ),
    );
    expect(wrong).toEqual([]);
  });

  it('never ends the process by force', () => {
    expect(files.filter((file) => /process\.exit\(/.test(readFileSync(join(SRC, file), 'utf8')))).toEqual([]);
  });
});

function isAnalyser(name: string): boolean {
  return /: Analyser = \{/.test(readFileSync(join(SRC, 'analysers', name), 'utf8'));
}
