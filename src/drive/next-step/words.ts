import { formatNumber, formatQuantity } from '../../kernel/format-number.ts';
import type { Allowance, Interval90, NextStep, NextStepLimit, Projection, Projector } from './type.ts';

const kpa = (value: number) => formatQuantity(value, 'kPa');

function intervalWords({ value, low, high }: Interval90, unit: string): string {
  if (!Number.isFinite(value)) return 'more than there is';
  return `${formatQuantity(value, unit)} (90 %: ${formatNumber(low, unit)} to ${formatNumber(high, unit)})`;
}

/** How much boost a limit still allows. A step that goes further than limits were looked for meets some beyond, where no boost can be named. */
export function allowanceWords(
  allows: Allowance,
  limit: NextStepLimit,
  unit: string,
  next: Interval90,
  reach: Pick<NextStep, 'settledKpa' | 'boostKpa' | 'supportedKpa' | 'furthestKpa'>,
): string {
  const mark = `${formatQuantity(limit.value, unit)} (${limit.source})`;
  const { boostKpa, surelyKpa } = allows;
  const far = (at: number) => (at > reach.supportedKpa ? ', which is beyond what this log supports' : '');
  const between = `between ${kpa(reach.furthestKpa)}, as far as this log is carried, and the step of ${kpa(reach.boostKpa)}`;
  if (surelyKpa === undefined) {
    if (next.value >= limit.value) return `The limit of ${mark} is met ${between}.`;
    const reaches = next.high >= limit.value ? `; the 90 % interval reaches it ${between}` : '';
    return `The limit of ${mark} is not met up to ${kpa(reach.furthestKpa)}${reaches === '' ? ', as far as this log is carried' : reaches}.`;
  }
  const sure =
    surelyKpa <= reach.settledKpa
      ? 'the interval reaches it at the boost of the log already'
      : `the 90 % interval keeps below it up to ${kpa(surelyKpa)}${far(surelyKpa)}`;
  if (boostKpa === undefined && next.value >= limit.value) {
    return `The limit of ${mark}: ${sure}; the value itself meets it ${between}.`;
  }
  if (boostKpa === undefined) {
    return `The limit of ${mark}: ${sure}; the value itself does not meet it up to ${kpa(reach.furthestKpa)}, as far as this log is carried.`;
  }
  if (boostKpa <= reach.settledKpa) return `The limit of ${mark} is met at the boost of the log already.`;
  return `The limit of ${mark} is met at ${kpa(boostKpa)} of settled boost${far(boostKpa)}; ${sure}.`;
}

/** One projection in sentences. */
export function projectionWords(
  { title, unit, now, basis, limit }: Projector,
  next: Interval90,
  allows: Allowance | undefined,
  reach: Pick<NextStep, 'settledKpa' | 'boostKpa' | 'supportedKpa' | 'furthestKpa'>,
): string[] {
  return [
    `${title}: ${intervalWords(now, unit)} now, ${intervalWords(next, unit)} at ${kpa(reach.boostKpa)}.`,
    ...(limit && allows ? [allowanceWords(allows, limit, unit, next, reach)] : []),
    ...basis,
  ];
}

/** The step as one sentence: what is met first, and whether the step itself keeps all limits. */
export function stepSummary(step: Omit<NextStep, 'summary' | 'reasoning'>): string {
  const titles = (which: Projection['standing']) =>
    step.projections.filter((p) => p.standing === which).map((p) => p.title.toLowerCase());
  const over = titles('at-or-above');
  const possible = titles('possible');
  const first = step.first && step.projections.find((p) => p.id === step.first?.id);
  const met = first
    ? `First limit met: ${first.title.toLowerCase()}, at ${kpa(step.first?.boostKpa ?? 0)}.`
    : over.length > 0
      ? `The first is met beyond ${kpa(step.furthestKpa)}, as far as limits are looked for in this log.`
      : `No limit that is known here is met up to ${kpa(step.furthestKpa)}.`;
  const here = step.from === 'proposed' ? `A step to ${kpa(step.boostKpa)}` : `The next step of ${kpa(step.boostKpa)}`;
  const verdict =
    over.length > 0
      ? `${here} takes ${over.join(', ')} to the limit or past it.`
      : possible.length > 0
        ? `${here} keeps the limits, but the interval of ${possible.join(', ')} reaches one.`
        : `${here} keeps every limit that could be projected.`;
  return `${verdict} ${met}`;
}

/** What the step as a whole rests on. */
export function stepReasons(step: Omit<NextStep, 'summary' | 'reasoning'>, notes: readonly string[]): string[] {
  const asked =
    step.from === 'build sheet'
      ? `The build sheet asks for ${kpa(step.boostKpa)} (nextStep.boost)`
      : `The build sheet names no next step; about a tenth of a bar more is proposed, ${kpa(step.boostKpa)} (common practice, no source)`;
  return [
    `Boost settles on ${kpa(step.settledKpa)} in this log. ${asked}. The whole settled line is taken to move by the difference, timing and mixture left as they are.`,
    ...(step.boostKpa <= step.settledKpa ? ['That is no step up: the pulls had that boost already.'] : []),
    ...(step.beyondData
      ? [
          `That is more than a log at ${kpa(step.settledKpa)} supports (up to ${kpa(step.supportedKpa)}): go there in smaller steps, with a log at each.`,
        ]
      : []),
    ...notes,
    ...step.open.map((open) => `${open.title}: not projected. ${open.why} Missing: ${open.needs.join(', ')}.`),
  ];
}
