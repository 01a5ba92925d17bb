import { createHash, type Hash } from 'node:crypto';
import { UserError } from '../kernel/user-error.ts';
import { refuseOtherText } from './other-text.ts';
import type { ReadSource } from './read-options.ts';
import { detectEncoding, type TextEncoding } from './text-encoding.ts';

/** Enough to tell UTF-16 and binary content. */
const ENCODING_HEAD_BYTES = 4096;

/** The file's bytes, counted and digested as they pass. */
interface OpenText {
  readonly encoding: TextEncoding;
  /** ASCII-compatible text: UTF-8, or Windows-1252 as it stands in the file; without byte order mark and NULs. */
  readonly chunks: Iterable<Uint8Array>;
  readonly seen: { bytes: number; nulBytes: number };
  readonly hash: Hash;
}

function withoutNuls(chunk: Uint8Array, seen: { nulBytes: number }): Uint8Array {
  if (chunk.indexOf(0) < 0) return chunk;
  const kept = chunk.filter((byte) => byte !== 0);
  seen.nulBytes += chunk.length - kept.length;
  return kept;
}

export function openText(source: ReadSource, givenEncoding: string | undefined): OpenText {
  const hash = createHash('sha256');
  const seen = { bytes: 0, nulBytes: 0 };
  const input = source.chunks[Symbol.iterator]();
  const next = (): Uint8Array | undefined => {
    const step = input.next();
    if (step.done) return undefined;
    hash.update(step.value);
    seen.bytes += step.value.length;
    return step.value;
  };

  let head: Uint8Array = next() ?? new Uint8Array(0);
  while (head.length < ENCODING_HEAD_BYTES) {
    const copy = Buffer.from(head);
    const more = next();
    if (!more) break;
    head = Buffer.concat([copy, more]);
  }
  if (head.length === 0) {
    throw new UserError(
      'the file is empty.',
      source.name,
      'Check that the logger had stopped writing when it was copied.',
    );
  }
  const encoding = detectEncoding(head.subarray(0, ENCODING_HEAD_BYTES), givenEncoding, source.name);
  refuseOtherText(head.subarray(0, ENCODING_HEAD_BYTES), source.name);

  function* chunks(): Generator<Uint8Array> {
    const { transcoder } = encoding;
    const prepared = (chunk: Uint8Array) =>
      withoutNuls(transcoder ? Buffer.from(transcoder.decode(chunk, { stream: true }), 'utf8') : chunk, seen);
    yield prepared(head.subarray(encoding.bomLength));
    for (let chunk = next(); chunk; chunk = next()) yield prepared(chunk);
    if (transcoder) yield Buffer.from(transcoder.decode(), 'utf8');
  }
  return { encoding, chunks: chunks(), seen, hash };
}
