import { POWERS_OF_TEN } from './cell-number.ts';

function digit(text: string, at: number): number {
  const value = text.charCodeAt(at) - 48;
  return value >= 0 && value <= 9 ? value : Number.NaN;
}

function twoDigits(text: string, at: number): number {
  return digit(text, at) * 10 + digit(text, at + 1);
}

/** Whole seconds plus the decimal digits of `fraction`, as the double nearest to that decimal number. */
export function secondsWithFraction(wholeSeconds: number, fraction: string): number {
  if (fraction === '') return wholeSeconds;
  const scale = POWERS_OF_TEN[Math.min(fraction.length, 22)];
  const scaled = wholeSeconds * scale + Number(fraction);
  if (Number.isSafeInteger(scaled) && Number.isSafeInteger(wholeSeconds * scale)) return scaled / scale;
  return wholeSeconds < 0 ? wholeSeconds + Number(`0.${fraction}`) : Number(`${wholeSeconds}.${fraction}`);
}

/** The digits of `.fff` or `,fff` at `at`; empty where the text ends there; undefined where something else stands there. */
export function fractionAt(text: string, at: number, end = text.length): string | undefined {
  if (at === end) return '';
  if ((text[at] !== '.' && text[at] !== ',') || at + 1 === end) return undefined;
  for (let i = at + 1; i < end; i++) if (Number.isNaN(digit(text, i))) return undefined;
  return text.slice(at + 1, end);
}

/**
 * A clock time `h:mm:ss` or `hh:mm:ss`, with `.fff` or `,fff`, as seconds since midnight; hours above 23 are elapsed
 * time and go on counting. NaN for everything else.
 */
export function parseClock(text: string): number {
  const colon = text.charCodeAt(1) === 58 ? 1 : 2;
  if (text.charCodeAt(colon) !== 58 || text.charCodeAt(colon + 3) !== 58) return Number.NaN;
  const hours = colon === 1 ? digit(text, 0) : twoDigits(text, 0);
  const minutes = twoDigits(text, colon + 1);
  const seconds = twoDigits(text, colon + 4);
  if (!(hours >= 0 && minutes < 60 && seconds <= 60)) return Number.NaN;
  const fraction = fractionAt(text, colon + 6);
  if (fraction === undefined) return Number.NaN;
  return secondsWithFraction(hours * 3600 + minutes * 60 + seconds, fraction);
}
