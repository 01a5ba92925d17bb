/** Windows-1252 for the bytes 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252). Node 20's own decoder gets these wrong. */
const HIGH = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

export function decodeWindows1252(byteText: string): string {
  let out = '';
  for (let i = 0; i < byteText.length; i++) {
    const code = byteText.charCodeAt(i);
    out += code >= 0x80 && code <= 0x9f ? HIGH[code - 0x80] : byteText[i];
  }
  return out;
}

export type CellEncoding = 'utf-8' | 'windows-1252' | 'utf-8 or windows-1252';

/**
 * The reader works on "byte texts": strings with one character per byte, so that offsets are byte offsets and no
 * character can be split between chunks. Only cells that end up as text are decoded, here.
 */
export interface CellDecoder {
  decode(byteText: string): string;
  /** Whether valid UTF-8 beyond ASCII, or bytes that are not, were met. */
  readonly met: { utf8: boolean; windows1252: boolean };
}

const BEYOND_ASCII = /[\u0080-\u00ff]/;

export function cellDecoder(encoding: CellEncoding): CellDecoder {
  const met = { utf8: false, windows1252: false };
  const utf8 = (bytes: Uint8Array, fatal: boolean) => new TextDecoder('utf-8', { fatal }).decode(bytes);
  return {
    met,
    decode(byteText) {
      if (!BEYOND_ASCII.test(byteText)) return byteText;
      if (encoding === 'windows-1252') return decodeWindows1252(byteText);
      const bytes = Buffer.from(byteText, 'latin1');
      if (encoding === 'utf-8') return utf8(bytes, false);
      try {
        const text = utf8(bytes, true);
        met.utf8 = true;
        return text;
      } catch {
        met.windows1252 = true;
        return decodeWindows1252(byteText);
      }
    },
  };
}
