import type { Io } from './io.ts';

/** A dumb terminal, or a locale that is set and is not UTF-8, gets ASCII. */
export function wantsAscii(env: Io['env']): boolean {
  if (env.TERM === 'dumb') return true;
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG;
  return locale !== undefined && locale !== '' && !/utf-?8/i.test(locale);
}
