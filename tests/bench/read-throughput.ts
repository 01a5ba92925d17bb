import Papa from 'papaparse';
import { quantileSorted } from 'simple-statistics';
import { readTable } from '../../src/read/read-table.ts';
import { benchLog } from './bench-log.ts';

const COPIES = 40;
const WARM_UPS = 1;
const ROUNDS = 7;
const CHUNK_BYTES = 1 << 18;
/** Reading from bytes to columns of numbers, against papaparse's bare cutting of the same text into cells. */
const PAPAPARSE_BAR = 3.5;

export interface Throughput {
  readonly text: string;
  readonly holds: boolean;
}

function seconds(work: () => number, rows: number): number {
  const start = process.hrtime.bigint();
  const read = work();
  const elapsed = Number(process.hrtime.bigint() - start) / 1e9;
  if (read !== rows) throw new Error(`${read} rows were read`);
  return elapsed;
}

const median = (values: readonly number[]) =>
  quantileSorted(
    [...values].sort((a, b) => a - b),
    0.5,
  );

/** Reading alone, bytes to columns, in a warm process; papaparse right beside it, told delimiter and line end. */
export function readThroughput(): Throughput {
  const [header, ...rows] = benchLog().trimEnd().split('\n');
  const count = rows.length * COPIES;
  const text = `${header}\n${Array.from({ length: COPIES }, () => rows.join('\n')).join('\n')}\n`;
  const bytes = Buffer.from(text);
  const ours = () =>
    readTable({ chunks: Object.assign(chunksOf(bytes), { bytes: bytes.length }), name: 'bench' }, {}).rowCount;
  const theirs = () => Papa.parse(text, { delimiter: ',', newline: '\n' }).data.length - 2;
  const pairs = Array.from({ length: WARM_UPS + ROUNDS }, () => ({
    own: seconds(ours, count),
    papaparse: seconds(theirs, count),
  })).slice(WARM_UPS);
  const ratio = median(pairs.map(({ own, papaparse }) => papaparse / own));
  const megabytes = bytes.length / 1e6;
  const speed = megabytes / median(pairs.map(({ own }) => own));
  const holds = ratio >= PAPAPARSE_BAR;
  return {
    text:
      `reading alone: ${speed.toFixed(0)} MB/s (${Math.round(megabytes)} MB, median of ${ROUNDS} pairs), ` +
      `${ratio.toFixed(1)} times papaparse's bare tokenising (bar ${PAPAPARSE_BAR}): ${holds ? 'holds' : 'MISSED'}`,
    holds,
  };
}

function* chunksOf(bytes: Buffer): Generator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
}
