import { readTable } from '../../src/read/read-table.ts';
import { benchLog } from './bench-log.ts';

const COPIES = 40;
const RUNS = 5;
const CHUNK_BYTES = 1 << 18;

/** Reading alone, bytes to columns, in a warm process. */
export function readThroughput(): string {
  const [header, ...rows] = benchLog().trimEnd().split('\n');
  const bytes = Buffer.from(`${header}\n${Array.from({ length: COPIES }, () => rows.join('\n')).join('\n')}\n`);
  const speeds = Array.from({ length: RUNS }, () => {
    const start = process.hrtime.bigint();
    const table = readTable({ chunks: chunksOf(bytes), name: 'bench' }, {});
    const seconds = Number(process.hrtime.bigint() - start) / 1e9;
    if (table.rowCount !== rows.length * COPIES) throw new Error(`${table.rowCount} rows were read`);
    return bytes.length / 1e6 / seconds;
  });
  const best = speeds.sort((a, b) => a - b)[RUNS >> 1];
  return `reading alone: ${best.toFixed(0)} MB/s (${Math.round(bytes.length / 1e6)} MB, median of ${RUNS})`;
}

function* chunksOf(bytes: Buffer): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
}
