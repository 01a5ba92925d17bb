import { describe, expect, test } from 'vitest';
import { decodeWindows1252 } from '../../src/read/cell-decoder.ts';
import { labelsOf, namesOf, readText, valuesOf } from './read-text.ts';

const TEXT = 'Time,Température (°C),Note\r\n0.00,21.5,λ – é\r\n0.05,21.6,漢字\r\n';

function utf16(text: string, bigEndian: boolean): Buffer {
  const bytes = Buffer.from(text, 'utf16le');
  return bigEndian ? bytes.swap16() : bytes;
}

describe('encodings', () => {
  const cases: [string, Buffer, string][] = [
    ['UTF-8', Buffer.from(TEXT), 'utf-8'],
    ['UTF-8 with a mark', Buffer.from(`\ufeff${TEXT}`), 'utf-8'],
    ['UTF-16 LE with a mark', utf16(`\ufeff${TEXT}`, false), 'utf-16le'],
    ['UTF-16 BE with a mark', utf16(`\ufeff${TEXT}`, true), 'utf-16be'],
    ['UTF-16 LE without a mark', utf16(TEXT, false), 'utf-16le'],
    ['UTF-16 BE without a mark', utf16(TEXT, true), 'utf-16be'],
  ];
  test.each(cases)('%s, in chunks of any size', (_, bytes, encoding) => {
    for (const size of [1, 2, 3, 7, 1000]) {
      const table = readText(bytes, {}, size);
      expect(table.dialect.encoding).toBe(encoding);
      expect(namesOf(table)).toEqual(['Time', 'Température (°C)', 'Note']);
      expect(valuesOf(table, 'Température (°C)')).toEqual([21.5, 21.6]);
      expect(labelsOf(table, 'Note')).toEqual(['λ – é', '漢字']);
      expect(table.bytes).toBe(bytes.length);
      expect(table.notes).toEqual([]);
    }
  });

  test('Windows-1252 where the bytes are no UTF-8, told in a note', () => {
    const bytes = Buffer.from('Time,Temp (\xb0C),Note\n0,1,caf\xe9 \x80\n', 'latin1');
    const table = readText(bytes, {}, 1);
    expect(table.dialect.encoding).toBe('windows-1252');
    expect(namesOf(table)).toEqual(['Time', 'Temp (°C)', 'Note']);
    expect(labelsOf(table, 'Note')).toEqual(['café €']);
    expect(table.notes).toEqual(['Some text is not valid UTF-8 and was read as Windows-1252.']);
  });

  test('a stray byte in a UTF-8 file does not spoil the other cells', () => {
    const bytes = Buffer.concat([Buffer.from('Time,Temp (°C),N\n0,1,ok\n1,2,'), Buffer.of(0xe9), Buffer.from('\n')]);
    const table = readText(bytes);
    expect(table.dialect.encoding).toBe('utf-8');
    expect(namesOf(table)[1]).toBe('Temp (°C)');
    expect(labelsOf(table, 'N')).toEqual(['ok', 'é']);
  });

  test('a character whose last byte is a no-break space in Windows-1252 is not cut', () => {
    expect(labelsOf(readText('t,x\n1,voilà\n2,b\n'), 'x')).toEqual(['voilà', 'b']);
  });

  test('Windows-1252 by the index of the WHATWG Encoding Standard', () => {
    const published: [number, number][] = [
      [0x80, 0x20ac],
      [0x82, 0x201a],
      [0x85, 0x2026],
      [0x8c, 0x0152],
      [0x92, 0x2019],
      [0x96, 0x2013],
      [0x99, 0x2122],
      [0x9f, 0x0178],
      [0xa0, 0x00a0],
      [0xb0, 0x00b0],
      [0xff, 0x00ff],
    ];
    for (const [byte, codePoint] of published) {
      expect(decodeWindows1252(String.fromCharCode(byte)).codePointAt(0)).toBe(codePoint);
    }
    expect(decodeWindows1252('\x81\x8d\x8f\x90\x9d')).toBe('\x81\x8d\x8f\x90\x9d');
  });

  test('other encodings by name', () => {
    const table = readText(Buffer.from('t,\xf4\xd0\n1,2\n', 'latin1'), { dialect: { encoding: 'koi8-r' } });
    expect(namesOf(table)).toEqual(['t', 'Тп']);
    expect(table.dialect.encoding).toBe('koi8-r');
  });

  test('marks in the middle of a log put together from several files', () => {
    const table = readText('\ufefft,x\n1,2\n\ufefft,x\n3,4\n');
    expect(valuesOf(table, 't')).toEqual([1, 3]);
    expect(table.notes).toEqual([expect.stringContaining('repeated in 1 row (line 3)')]);
  });
});
