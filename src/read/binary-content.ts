import { UserError } from '../kernel/user-error.ts';

/** First bytes of formats that get mistaken for a log (from their published signatures), and what to say about each. */
const SIGNATURES: readonly (readonly [bytes: string, what: string])[] = [
  ['PK\x03\x04', 'a zip archive or an Excel workbook'],
  ['\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1', 'an old Excel workbook'],
  ['\x89PNG', 'a PNG picture'],
  ['\xff\xd8\xff', 'a JPEG picture'],
  ['\x1f\x8b', 'a gzip archive'],
  ['7z\xbc\xaf', 'a 7z archive'],
  ['%PDF-', 'a PDF document'],
  ['SQLite format 3\0', 'an SQLite database'],
  ['MDF     ', 'a binary measurement file (MDF)'],
  ['UnFinMF ', 'a binary measurement file (MDF)'],
  ['\x7fELF', 'a program'],
];

function binary(what: string, name: string): UserError {
  return new UserError(
    `this is ${what}, not a text file.`,
    name,
    'Export the log as CSV from the logging software, or unpack it first.',
  );
}

/** Control characters that text files do carry: tab, line ends, form feed, end-of-file mark, escape. */
function isTextControl(byte: number): boolean {
  return (byte >= 9 && byte <= 13) || byte === 26 || byte === 27;
}

/** Refuses content that is no text. `head` is the start of the file, not UTF-16; runs of NULs (power loss) are let through. */
export function refuseBinary(head: Uint8Array, name: string): void {
  const start = Buffer.from(head.subarray(0, 16)).toString('latin1');
  for (const [bytes, what] of SIGNATURES) if (start.startsWith(bytes)) throw binary(what, name);
  let control = 0;
  let high = 0;
  let nulRuns = 0;
  let nuls = 0;
  for (let i = 0; i < head.length; i++) {
    const byte = head[i];
    if (byte === 0) {
      nuls++;
      if (i === 0 || head[i - 1] !== 0) nulRuns++;
    } else if (byte < 32 && !isTextControl(byte)) control++;
    else if (byte > 127) high++;
  }
  const others = head.length - nuls;
  if (others === 0) throw binary('a file of zero bytes only', name);
  if (control > 4 + others / 100 || nulRuns > 4 + others / 100 || high > 16 + others * 0.6) {
    throw binary('binary data', name);
  }
}
