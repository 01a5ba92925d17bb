import { readTable } from '../../src/read/read-table.ts';
import { benchLog } from './bench-log.ts';

const CHUNK_BYTES = 1 << 18;

/** `bytes` of a wide log, made as it is read: the rows of the bench log over and over, cut anywhere. */
function* wideLog(bytes: number): Generator<Uint8Array> {
  const [header, ...rows] = benchLog().trimEnd().split('\n');
  const start = Buffer.from(`${header}\n`);
  const round = Buffer.from(`${rows.join('\n')}\n`);
  yield start;
  // One buffer for all chunks, as the program itself reads files.
  const chunk = Buffer.allocUnsafe(CHUNK_BYTES);
  let at = 0;
  for (let made = start.length; made < bytes; made += CHUNK_BYTES) {
    for (let filled = 0; filled < CHUNK_BYTES; ) {
      const copied = round.copy(chunk, filled, at, Math.min(round.length, at + CHUNK_BYTES - filled));
      filled += copied;
      at = (at + copied) % round.length;
    }
    yield chunk;
  }
}

const [megabytes, every] = process.argv.slice(2).map(Number);
const bytes = megabytes * 1e6;
let column = 0;
const start = process.hrtime.bigint();
const table = readTable(
  { chunks: Object.assign(wideLog(bytes), { bytes }), name: 'wide' },
  { keep: () => column++ % every === 0 },
);
const seconds = Number(process.hrtime.bigint() - start) / 1e9;
process.stdout.write(
  JSON.stringify({
    rows: table.rowCount,
    columns: table.columns.length,
    peakBytes: process.resourceUsage().maxRSS * 1024,
    seconds,
  }),
);
