import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { readTable } from '../../src/read/read-table.ts';
import { contentOf, readText } from './read-text.ts';

/** A head that ends behind a few rows, then blocks of a few bytes: every row, and every cell, meets an edge. */
const SMALL = [1, 2, 3, 5, 8, 13, 64].map((block) => ({ head: 60, block }));

const TEXTS: Record<string, string> = {
  'plain numbers': `t,rpm,x\n${Array.from({ length: 30 }, (_, i) => `${i / 20},${850 + i},-${i}.0625e-1`).join('\n')}\n`,
  'CR LF': `t,rpm\r\n${Array.from({ length: 30 }, (_, i) => `${i / 20},${850 + i}`).join('\r\n')}\r\n`,
  'CR alone': `t,rpm\r${Array.from({ length: 30 }, (_, i) => `${i / 20},${850 + i}`).join('\r')}\r`,
  'quoted cells with line ends and doubled quotes': `t,note,x\n${Array.from({ length: 20 }, (_, i) => `${i},"a ""b""\r\nc, ${i % 3}",${i}.5`).join('\n')}\n`,
  'quotes here and there': `t,note\n${Array.from({ length: 40 }, (_, i) => (i % 7 === 3 ? `${i},"x\ny"` : `${i},z`)).join('\n')}\n`,
  'characters of several bytes': `t,Température (°C),note\n${Array.from({ length: 20 }, (_, i) => `${i},2${i},λ漢😀${i % 2}`).join('\n')}\n`,
  'no last line end': `t,rpm\n${Array.from({ length: 30 }, (_, i) => `${i / 20},${850 + i}`).join('\n')}`,
  'cut off': `t,rpm,map\n${Array.from({ length: 30 }, (_, i) => `${i / 20},${850 + i},${i}`).join('\n')}\n1.5,8`,
  'comments, blank lines, repeated header': `t,rpm,map\n${Array.from({ length: 30 }, (_, i) => (i % 9 === 4 ? '# a "b"\n\nt,rpm,map' : `${i},${850 + i},${i}`)).join('\n')}\n`,
  'aligned spaces': `t     rpm\n${Array.from({ length: 30 }, (_, i) => `  ${i / 20}   ${850 + i}`).join('\n')}\n`,
};

describe('chunk and block edges', () => {
  test.each(Object.entries(TEXTS))('%s', (_, text) => {
    const bytes = Buffer.from(text);
    const whole = contentOf(readText(bytes));
    expect(whole.rowCount).toBeGreaterThan(15);
    for (const sizes of SMALL) {
      for (const chunk of [1, 3, 7, 50, 1000]) {
        expect(contentOf(readText(bytes, {}, chunk, sizes)), `block ${sizes.block}, chunk ${chunk}`).toEqual(whole);
      }
    }
  });

  test('digest and size are those of the bytes as they stand in the file', () => {
    const bytes = Buffer.from('\ufefft,x\n0,1\n\0\0', 'utf16le');
    for (const chunk of [1, 5, 100]) {
      const table = readText(bytes, {}, chunk);
      expect(table.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
      expect(table.bytes).toBe(bytes.length);
    }
  });

  test('a chunk may be overwritten as soon as the next one is asked for', () => {
    const text = Buffer.from(TEXTS['plain numbers'].repeat(1) + '1,2,3\n'.repeat(5000));
    function* reused() {
      const shared = new Uint8Array(1000);
      for (let at = 0; at < text.length; at += shared.length) {
        const part = text.subarray(at, at + shared.length);
        shared.set(part);
        yield shared.subarray(0, part.length);
        shared.fill(88);
      }
    }
    const whole = readText(text);
    for (const sizes of [{ head: 100, block: 100 }, { head: 2500, block: 3000 }, undefined]) {
      expect(readTable({ chunks: reused(), name: 'log.csv' }, {}, sizes)).toEqual(whole);
    }
  });

  test('a quote that never closes is told with its line, however long the rest', () => {
    const text = `t,x\n0,a\n1,"b\n${'2,c\n'.repeat(3000)}`;
    for (const sizes of [undefined, { head: 100, block: 1000 }]) {
      expect(() => readText(text, {}, 700, sizes)).toThrow(/^log.csv, line 3: a quote is opened/);
    }
    const long = `t,x\n0,a\n1,"b\n${'2,cccccccccccccccccccccccccccc\n'.repeat(60_000)}`;
    expect(() => readText(long)).toThrow(/^log.csv, line 3: a quote is opened/);
  });

  test('a line of more than 16 MiB is refused', () => {
    const bytes = Buffer.alloc(17 * 1024 * 1024, '1,');
    expect(() => readText(bytes, {}, 1024 * 1024)).toThrow(/longer than 16 MiB/);
  });
});
