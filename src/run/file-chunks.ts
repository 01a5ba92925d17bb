import { closeSync, openSync, readSync } from 'node:fs';

const CHUNK_BYTES = 1 << 18;
const STDIN = 0;
const RETRY_MS = 5;

/** A file's bytes, piece by piece, so that no log is ever held whole. The file is opened when the first piece is asked for. */
export function* fileChunks(path: string): Generator<Uint8Array> {
  const descriptor = openSync(path, 'r');
  try {
    yield* descriptorChunks(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

export function stdinChunks(): Generator<Uint8Array> {
  return descriptorChunks(STDIN);
}

function* descriptorChunks(descriptor: number): Generator<Uint8Array> {
  for (;;) {
    const chunk = Buffer.allocUnsafe(CHUNK_BYTES);
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
