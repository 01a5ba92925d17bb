import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { quantileSorted } from 'simple-statistics';
import { BENCH_BUILD, BENCH_MAPPING, benchLog } from './bench-log.ts';
import { readThroughput } from './read-throughput.ts';

const WARM_UPS = 2;
const ROUNDS = Number(process.env.BENCH_ROUNDS ?? 15);
const CHECK_BAR = 3.3;
const HELP_BAR = 2;
/** The page against the JSON report of the same log. */
const HTML_BAR = 1.5;

const program = resolve(import.meta.dirname, '../../bin/pullgate.js');
const folder = mkdtempSync(join(tmpdir(), 'pullgate-bench-'));
const log = join(folder, 'log.csv');
const map = join(folder, 'bench.map.json');
const build = join(folder, 'bench.build.json');
// Node reads the file that this variable names at every start, which doubles the start-up of both sides.
const { NODE_EXTRA_CA_CERTS: _, ...env } = process.env;

/** Wall time of one process, ms. */
function wallMs(args: readonly string[], codes: readonly number[]): number {
  const start = process.hrtime.bigint();
  const { status, stderr } = spawnSync(process.execPath, args, { env, cwd: folder });
  const end = process.hrtime.bigint();
  if (status === null || !codes.includes(status)) throw new Error(`${args.join(' ')} ended ${status}: ${stderr}`);
  return Number(end - start) / 1e6;
}

function median(values: readonly number[]): number {
  return quantileSorted(
    [...values].sort((a, b) => a - b),
    0.5,
  );
}

interface Base {
  readonly name: string;
  readonly ms: readonly number[];
}

/** The middle of the ratios of each round's pair: what slows the machine for a while slows both. */
function report(name: string, base: Base, own: readonly number[], bar: number): boolean {
  const ratio = median(own.map((ms, i) => ms / base.ms[i]));
  const holds = ratio <= bar;
  const times = `${median(base.ms).toFixed(1)} ms against ${median(own).toFixed(1)} ms`;
  process.stdout.write(
    `${name}: ${ratio.toFixed(2)} times ${base.name} (${times}; bar ${bar}): ${holds ? 'holds' : 'MISSED'}\n`,
  );
  return holds;
}

try {
  writeFileSync(log, benchLog());
  writeFileSync(map, JSON.stringify(BENCH_MAPPING));
  writeFileSync(build, JSON.stringify(BENCH_BUILD));
  const checked = [program, 'check', log, '-m', map, '-b', build];
  const rows: { bare: number; check: number; json: number; html: number; help: number }[] = [];
  for (let round = 0; round < WARM_UPS + ROUNDS; round++) {
    rows.push({
      bare: wallMs(['-e', '0'], [0]),
      check: wallMs(checked, [0, 1]),
      json: wallMs([...checked, '-f', 'json'], [0, 1]),
      html: wallMs([...checked, '-f', 'html'], [0, 1]),
      help: wallMs([program, '--help'], [0]),
    });
  }
  const kept = rows.slice(WARM_UPS);
  const timesOf = (run: keyof (typeof rows)[number]) => kept.map((row) => row[run]);
  const bare: Base = { name: 'node -e 0', ms: timesOf('bare') };
  const json: Base = { name: 'the JSON report', ms: timesOf('json') };
  const kilobytes = Math.round(statSync(log).size / 1000);
  process.stdout.write(`${ROUNDS} paired rounds after ${WARM_UPS} warm-ups, log of ${kilobytes} KB, 30 columns\n`);
  const held = [
    report('check, terminal report', bare, timesOf('check'), CHECK_BAR),
    report('check, JSON report', bare, timesOf('json'), CHECK_BAR),
    report('check, HTML report', json, timesOf('html'), HTML_BAR),
    report('--help', bare, timesOf('help'), HELP_BAR),
  ];
  const reading = readThroughput();
  process.stdout.write(`${reading.text}\n`);
  process.exitCode = held.every(Boolean) && reading.holds ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true });
}
