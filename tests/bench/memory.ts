import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { buildSync } from 'esbuild';

/** Peak memory of reading a log of this size, in a process that does nothing else. */
const MEGABYTES = Number(process.env.BENCH_MEGABYTES ?? 500);
/** What may come on top of the numbers that are kept: Node itself, blocks of text, the room that columns grow into. */
const ALLOWANCE_BYTES = 90e6;

interface Measured {
  readonly rows: number;
  readonly columns: number;
  readonly peakBytes: number;
  readonly seconds: number;
}

const folder = mkdtempSync(join(tmpdir(), 'pullgate-memory-'));
const reader = join(folder, 'reader.cjs');

function measure(every: number): Measured {
  const { NODE_EXTRA_CA_CERTS: _, ...env } = process.env;
  const { status, stdout, stderr } = spawnSync(process.execPath, [reader, String(MEGABYTES), String(every)], {
    env,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`the reader ended ${status}: ${stderr}`);
  return JSON.parse(stdout) as Measured;
}

const mb = (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`;

try {
  buildSync({
    entryPoints: [resolve(import.meta.dirname, 'memory-reader.ts')],
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile: reader,
    logLevel: 'warning',
  });
  let holds = true;
  for (const every of [1, 4]) {
    const { rows, columns, peakBytes, seconds } = measure(every);
    const numbers = rows * columns * 8;
    const isWithin = peakBytes <= numbers + ALLOWANCE_BYTES;
    holds &&= isWithin;
    process.stdout.write(
      `${MEGABYTES} MB log, ${columns} columns kept: peak ${mb(peakBytes)} = ${mb(numbers)} of numbers + ` +
        `${mb(peakBytes - numbers)} (bar ${mb(ALLOWANCE_BYTES)}), ${(MEGABYTES / seconds).toFixed(0)} MB/s: ` +
        `${isWithin ? 'holds' : 'MISSED'}\n`,
    );
  }
  process.exitCode = holds ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true });
}
