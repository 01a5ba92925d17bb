import type { Trace } from './guess-evidence.ts';
import type { ChannelSource } from './mapping-schema.ts';

/** Which way a column counts retard, as far as its values show. */
export type RetardSign =
  | { readonly kind: 'as logged' | 'turned' }
  | { readonly kind: 'open' }
  /** Never away from zero, or most of the time away: nothing shows that it is retard. */
  | { readonly kind: 'unseen' };

/** Knock control does nothing most of the time. */
const AT_REST_LEAST = 0.5;

/** Knock retard counts positive; a column that only goes below zero is turned round, one that does both stays open. */
export function retardSign({ values }: Trace): RetardSign {
  let below = 0;
  let above = 0;
  for (const value of values) {
    if (value < 0) below++;
    else if (value > 0) above++;
  }
  if (below > 0 && above > 0) return { kind: 'open' };
  if (below + above === 0) return { kind: 'unseen' };
  return { kind: below > 0 ? 'turned' : 'as logged' };
}

/** Whether a column behaves like retard by knock control: away from zero, but seldom. */
export function seldomMoves({ values }: Trace): boolean {
  const still = values.reduce((count, value) => count + (value === 0 ? 1 : 0), 0);
  return still < values.length && still >= AT_REST_LEAST * values.length;
}

export const turned = (source: ChannelSource): ChannelSource => ({ ...source, scale: -1 });
