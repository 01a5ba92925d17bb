import { formatNumber, formatQuantity } from '../kernel/format-number.ts';
import type { NextStepReport } from '../report/next-step-schema.ts';

export type Projection = NextStepReport['projections'][number];

/** The heading over `metAtWords`. */
export const MET_AT = 'Limit met at (kPa)';

const STANDING_WORDS: Readonly<Record<Projection['standing'], string>> = {
  below: 'below',
  possible: 'may meet it',
  'at-or-above': 'MEETS IT',
  'no-limit': '',
};

/** How a projection stands against its limit; nothing where there is none. */
export const standingWords = ({ standing }: Projection): string => STANDING_WORDS[standing];

/** A projected value; fuel pressure that boost has used up leaves it without an end. */
export const projectedWords = (value: number | null, unit: string): string =>
  value === null ? 'no end' : formatNumber(value, unit);

export const intervalWords = ({ next, unit }: Projection): string =>
  `${projectedWords(next.low, unit)} to ${projectedWords(next.high, unit)}`;

/** Settled boost at which the limit is met, kPa; `"beyond 143.0"` where that is more than the log can be carried to. */
export function metAtWords({ allows }: Projection, { furthestBoost }: NextStepReport): string {
  if (!allows) return '';
  return allows.boost === null ? `beyond ${formatNumber(furthestBoost, 'kPa')}` : formatNumber(allows.boost, 'kPa');
}

/** From where to where, and what comes of it. */
export function stepLead({ settledBoost, boost, from, summary }: NextStepReport): string {
  const origin = from === 'build sheet' ? 'from the build sheet' : 'proposed here';
  return `From ${formatQuantity(settledBoost, 'kPa')} to ${formatQuantity(boost, 'kPa')} of settled boost (${origin}). ${summary}`;
}

/** Where the log no longer carries what is said; nothing where it does. */
export function beyondWords({ beyondData, supportedBoost }: NextStepReport): string[] {
  if (!beyondData) return [];
  return [
    `The log supports projections up to ${formatQuantity(supportedBoost, 'kPa')}; beyond that they are extrapolated.`,
  ];
}
