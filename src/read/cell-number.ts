export type DecimalChar = '.' | ',';

/** 10⁰ to 10²²: every power of ten that a double holds exactly. */
export const POWERS_OF_TEN = Float64Array.of(
  ...[1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11],
  ...[1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22],
);

/** Sign, digits with one decimal character, exponent; every part has one way to match, so the time is linear. */
const NUMBER: Record<DecimalChar, string> = {
  '.': '[-+]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:[eE][-+]?\\d+)?',
  ',': '[-+]?(?:\\d+(?:,\\d*)?|,\\d+)(?:[eE][-+]?\\d+)?',
};
const POINT_CELL = new RegExp(`^${NUMBER['.']}$`);
const COMMA_CELL = new RegExp(`^${NUMBER[',']}$`);
const POINT_START = new RegExp(`^${NUMBER['.']}`);
const COMMA_START = new RegExp(`^${NUMBER[',']}`);

/** Where the plain number at the start of `text` ends; 0 where there is none. An exponent without digits is left out. */
export function numberEnd(text: string, decimalChar: DecimalChar): number {
  return (decimalChar === ',' ? COMMA_START : POINT_START).exec(text)?.[0].length ?? 0;
}

/** Digits in groups of three, as spreadsheets write thousands: `5,900`, `5'900`, `5 900`. A zero never leads. */
const GROUPED = /^([-+]?[1-9]\d{0,2})([,.'’ \u00a0\u2009\u202f])(\d{3}(?:\2\d{3})*)([.,]\d*)?$/;

/**
 * A whole cell as a number with its thousands grouped; NaN for everything else. A point between groups is not taken, where decimals have a comma: who
 * mixes the two may mean either.
 */
export function parseGrouped(text: string, decimalChar: DecimalChar): number {
  const [, first, separator, rest, decimals = ''] = GROUPED.exec(text) ?? [];
  if (first === undefined || separator === decimalChar || separator === '.') return Number.NaN;
  if (decimals !== '' && !decimals.startsWith(decimalChar)) return Number.NaN;
  return parseNumber(first + rest.replaceAll(separator, '') + decimals, decimalChar);
}

/**
 * A whole cell as a plain number: sign, digits, one decimal character, exponent. The value is what `Number` makes of
 * it, bit for bit. NaN for everything else: blank, `Infinity`, hexadecimal, digit groups, numbers too large for a double.
 */
export function parseNumber(text: string, decimalChar: DecimalChar): number {
  if (!(decimalChar === ',' ? COMMA_CELL : POINT_CELL).test(text)) return Number.NaN;
  const value = Number(decimalChar === ',' ? text.replace(',', '.') : text);
  return Number.isFinite(value) ? value : Number.NaN;
}
