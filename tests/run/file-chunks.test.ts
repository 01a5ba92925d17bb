import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';
import { fileChunks } from '../../src/run/file-chunks.ts';
import { fileError } from '../../src/run/file-error.ts';
import { writeAtomically } from '../../src/run/write-atomically.ts';
import { workspace } from '../cli/workspace.ts';

const long = 'abc,123\n'.repeat(200_000);
const shop = workspace({ 'long.csv': long, 'empty.csv': '', 'folder/x': '' });
afterAll(() => shop.remove());
const at = (name: string) => join(shop.path, name);
const hash = (parts: Iterable<Uint8Array>) => {
  const all = createHash('sha256');
  for (const part of parts) all.update(part);
  return all.digest('hex');
};

describe('a file in pieces', () => {
  it('is the whole file', () => {
    expect([...fileChunks(at('long.csv'))].length).toBeGreaterThan(2);
    expect(hash(fileChunks(at('long.csv')))).toBe(hash([Buffer.from(long)]));
    expect([...fileChunks(at('empty.csv'))]).toEqual([]);
  });

  it.each([
    ['nope.csv', 'nope.csv: there is no such file or folder.'],
    ['folder', 'folder: this is a folder, and a file is needed.'],
  ])('%s is told in words', (name, told) => {
    try {
      hash(fileChunks(at(name)));
      expect.unreachable();
    } catch (error) {
      expect(fileError(error, name)).toBeInstanceOf(UserError);
      expect((fileError(error, name) as Error).message).toContain(told);
    }
  });

  it('lets our own faults through', () => {
    const fault = new TypeError('x');
    expect(fileError(fault, 'x')).toBe(fault);
  });
});

describe('writing', () => {
  it('replaces a file and leaves no draft behind', () => {
    writeAtomically(at('folder/x'), 'new', 'x');
    expect(readFileSync(at('folder/x'), 'utf8')).toBe('new');
    expect(() => writeAtomically(at('folder'), 'text', 'folder')).toThrow(UserError);
    expect(readdirSync(shop.path).sort()).toEqual(['empty.csv', 'folder', 'long.csv']);
    expect(() => writeAtomically(at('no/x'), 'text', 'no/x')).toThrow('no/x: there is no such file or folder.');
  });
});
