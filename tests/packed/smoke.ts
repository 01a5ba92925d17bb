import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

/** Packs the package as it would be published, installs it into an empty folder and runs it there as a stranger would. */
const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'pullgate-packed-'));
const windows = process.platform === 'win32';
let failed = 0;
let passed = 0;

function run(command: string, args: readonly string[], cwd: string, input = '') {
  const { status, stdout, stderr } = spawnSync(command, args, { cwd, input, encoding: 'utf8', shell: windows });
  return { status, stdout, stderr };
}

function expectThat(what: string, holds: boolean, told: object): void {
  process.stdout.write(`${holds ? 'ok    ' : 'FAILED'} ${what}\n`);
  if (!holds) process.stdout.write(`${JSON.stringify(told, null, 2).slice(0, 4000)}\n`);
  if (holds) passed++;
  else failed++;
}

function mustRun(args: readonly string[], cwd: string): string {
  const ended = run('npm', args, cwd);
  if (ended.status !== 0) throw new Error(`npm ${args.join(' ')} ended ${ended.status}: ${ended.stderr}`);
  return ended.stdout;
}

try {
  const [{ filename, files }] = JSON.parse(
    mustRun(['pack', '--json', '--ignore-scripts', '--pack-destination', folder], root),
  ) as [{ filename: string; files: { path: string }[] }];
  const packed = files.map((file) => file.path);
  const program = ['bin/pullgate.js', 'bin/package.json', 'dist/pullgate.cjs', 'dist/pullgate.cache'];
  const wanted = ['LICENSE', 'README.md', 'package.json', ...program];
  expectThat(
    'the tarball holds what is needed',
    wanted.every((path) => packed.includes(path)),
    packed,
  );
  const stray = packed.filter((path) => /^(src|tests|fixtures|node_modules)\//.test(path));
  expectThat('the tarball holds nothing of the workshop', stray.length === 0, stray);

  writeFileSync(join(folder, 'package.json'), '{ "name": "empty", "private": true }');
  mustRun(['install', '--prefer-offline', '--no-audit', '--no-fund', `./${filename}`], folder);

  const installed = join(folder, 'node_modules', '.bin', windows ? 'pullgate.cmd' : 'pullgate');
  const logs = join(folder, 'node_modules', 'pullgate', 'demo-logs');
  const cars = readdirSync(logs, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  const clean = join(logs, 'hatchback-first-base-run');
  const lean = join(logs, 'estate-lean-at-the-limit');
  const pullgate = (args: readonly string[], input?: string) => run(installed, args, folder, input);

  const open = pullgate(['check', clean]);
  expectThat('a clean log opens the gate and ends 0', open.status === 0 && open.stdout.startsWith('GATE OPEN'), open);
  const closed = pullgate(['check', lean]);
  expectThat('a bad log closes it and ends 1', closed.status === 1 && closed.stdout.startsWith('GATE CLOSED'), closed);
  const missing = pullgate(['check', 'nowhere.csv']);
  expectThat('a missing log ends 2', missing.status === 2 && missing.stderr.startsWith('pullgate: '), missing);

  const json = pullgate(['check', logs, '-f', 'json', '--fail-on', 'never']);
  const { pullgate: kind, reports } = JSON.parse(json.stdout) as { pullgate: string; reports: unknown[] };
  expectThat('every demo log gives a report', kind === 'summary/1' && reports.length === cars.length, { kind });

  const [log] = readdirSync(clean).filter((name) => name.endsWith('.csv'));
  const sheets = ['-m', join(clean, 'pullgate.map.json'), '-b', join(clean, 'pullgate.build.json')];
  const piped = pullgate(['check', '-', ...sheets], readFileSync(join(clean, log), 'utf8'));
  expectThat('standard input is read', piped.status === 0, piped);
  const pattern = pullgate(['check', 'node_modules/pullgate/demo-logs/hatch*/*.csv']);
  expectThat('patterns are expanded', pattern.status === 0, pattern);

  for (const args of [
    ['--version'],
    ['--help'],
    ['explain'],
    ['explain', 'boost-creep'],
    ['limits'],
    ['schema', 'map'],
    ['init'],
  ]) {
    const ended = pullgate(args);
    expectThat(args.join(' '), ended.status === 0 && ended.stdout !== '' && ended.stderr === '', ended);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.stdout.write(`packed program: ${passed} passed, ${failed} failed\n`);
process.exitCode = failed === 0 ? 0 : 1;
