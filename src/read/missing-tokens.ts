import { type DecimalChar, parseNumber } from './cell-number.ts';

const COMMON = new Set(['nan', 'n/a', 'na', '#n/a', 'null', '-', '--', '---']);

export interface MissingTokens {
  readonly given: ReadonlySet<string>;
  /** The given tokens that are numbers, such as -999: a cell of that value has to be compared as text. */
  readonly numbers: ReadonlySet<number>;
}

export function missingTokens(given: readonly string[], decimalChar: DecimalChar): MissingTokens {
  const texts = given.map((token) => token.trim());
  const numbers = texts.map((token) => parseNumber(token, decimalChar)).filter((value) => !Number.isNaN(value));
  return { given: new Set(texts), numbers: new Set(numbers) };
}

/** Whether a logger commonly writes this text where it has no value (in any letter case). */
export function isCommonMissing(text: string): boolean {
  return text.length <= 4 && COMMON.has(text.toLowerCase());
}

export function isMissing(tokens: MissingTokens, text: string): boolean {
  return isCommonMissing(text) || tokens.given.has(text);
}
