import { closeSync, constants, fstatSync, openSync, readFileSync, readSync } from 'node:fs';
import type { ByteChunks } from '../read/read-options.ts';

/** Small: the memory of a piece has to be touched first, which costs more than reading more often. */
const CHUNK_BYTES = 1 << 16;
const STDIN = 0;
const RETRY_MS = 5;

/** Opens a file without waiting for anybody: a pipe nobody writes to, a socket or a device is refused. Folders fail on reading. */
function openRegular(path: string): number {
  const descriptor = openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  const stats = fstatSync(descriptor);
  if (stats.isFile() || stats.isDirectory()) return descriptor;
  closeSync(descriptor);
  throw Object.assign(new Error(`${path} is no regular file`), { code: 'EFTYPE', syscall: 'open' });
}

/** The whole of a small file: a mapping or a build sheet. */
export function bytesOfFile(path: string): Buffer {
  const descriptor = openRegular(path);
  try {
    return readFileSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

/** A file's bytes, piece by piece, so that no log is ever held whole. A piece lies where the one before lay. The file is opened when the first piece is asked for. */
export function fileChunks(path: string): ByteChunks {
  let bytes: number | undefined;
  function* chunks(): Generator<Uint8Array> {
    const descriptor = openRegular(path);
    try {
      bytes = fstatSync(descriptor).size;
      yield* descriptorChunks(descriptor);
    } finally {
      closeSync(descriptor);
    }
  }
  return {
    [Symbol.iterator]: chunks,
    get bytes() {
      return bytes;
    },
  };
}

export function stdinChunks(): Generator<Uint8Array> {
  return descriptorChunks(STDIN);
}

function* descriptorChunks(descriptor: number): Generator<Uint8Array> {
  const chunk = Buffer.allocUnsafe(CHUNK_BYTES);
  for (;;) {
    const size = readSome(descriptor, chunk);
    if (size === 0) return;
    yield chunk.subarray(0, size);
  }
}

/** Bytes read, 0 at the end. A pipe that has nothing yet is asked again. */
function readSome(descriptor: number, into: Uint8Array): number {
  for (;;) {
    try {
      return readSync(descriptor, into);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EOF') return 0;
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, RETRY_MS);
    }
  }
}
