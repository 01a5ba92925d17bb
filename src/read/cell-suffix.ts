import { type DecimalChar, numberEnd } from './cell-number.ts';

/** What follows the number at the start of a cell, such as `psi` in `12.3 psi`; undefined where the cell is not built so. */
export function unitSuffix(text: string, decimalChar: DecimalChar): string | undefined {
  const end = numberEnd(text, decimalChar);
  if (end === 0 || end === text.length) return undefined;
  const suffix = text.slice(end).trim();
  return suffix.length > 0 && suffix.length <= 12 && /^[\p{L}%°‰/·²³"' ]+$/u.test(suffix) ? suffix : undefined;
}
