import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { HELD_S, shortestSeenS } from '../drive/mixture/held.ts';
import type { LambdaLag } from '../drive/mixture/lag.ts';
import { BOOST_KPA, type HeldMixture, type LeftOut, type Measured, type MixturePull } from '../drive/mixture/pull.ts';
import { cleanLambda } from '../drive/mixture/samples.ts';
import type { MixtureTarget } from '../drive/mixture/target.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding, Place, Verdict } from './finding.ts';
import { LEAN_NEXT, leanCauses } from './mixture-causes.ts';
import { limitShown, limitWords, pullNames, pullPlace, rpmWords, withInterval } from './wording.ts';

export const LEAN_ERROR = 'mixture.lean-error';
export const LEAN_LIMIT = 'mixture.lean-limit';

/** A pass needs this rate: slower, half a second of lean mixture can pass between two readings, Hz. */
const SLOWEST_HZ = 2;

export interface MixtureInput {
  readonly drive: Drive;
  readonly build: Build;
  readonly lag: LambdaLag;
  readonly target: MixtureTarget | undefined;
  readonly pulls: readonly MixturePull[];
}

const ratio = (value: number) => formatQuantity(value, 'ratio');
const seconds = (value: number) => formatQuantity(value, 's');

const boostWords = (at: HeldMixture) =>
  Number.isFinite(at.boostKpa) ? ` and ${formatQuantity(at.boostKpa, 'kPa')} boost` : '';

/** What was left out of the pulls, and why. */
export function leftOutWords(
  { drive, pulls }: MixtureInput,
  of: 'errorLeftOut' | 'boostedLeftOut' = 'errorLeftOut',
): string {
  const sum = (key: keyof LeftOut) => pulls.reduce((total, pull) => total + pull[of][key], 0);
  const parts = [
    [sum('entryS'), 'until the enrichment at the start showed'],
    [sum('movingS'), 'while the target moved faster than the lag is known'],
    [sum('cutS'), 'of fuel cut and recovery'],
    [sum('lowBoostS'), of === 'errorLeftOut' ? 'before boost made it full load' : 'below 40 kPa of boost'],
  ] as const;
  const said = parts.filter(([s]) => s > 0).map(([s, why]) => `${seconds(s)} ${why}`);
  const slips = (cleanLambda(drive)?.leftOut ?? []).filter((t) =>
    pulls.some(({ pull }) => t >= pull.startS && t <= pull.endS),
  );
  if (slips.length > 0) said.push(`${slips.length} lone or impossible reading${slips.length === 1 ? '' : 's'}`);
  return said.length > 0 ? `Left out of ${pullNames(pulls.map((p) => p.pull.id))}: ${said.join('; ')}.` : '';
}

function excursionWords(id: number, measured: Measured, mark: number): string {
  const all = measured.excursions;
  if (all.length === 0) return '';
  const longest = all.reduce((a, b) => (b.seconds > a.seconds ? b : a));
  const total = all.reduce((sum, x) => sum + x.seconds, 0);
  const from = rpmWords(Math.min(...longest.rpm));
  const to = rpmWords(Math.max(...longest.rpm));
  return `Pull ${id}: at or beyond ${ratio(mark)} for ${seconds(total)} of ${seconds(measured.judgedS)} judged${all.length > 1 ? ` in ${all.length} stretches` : ''}, the longest from ${from} to ${to} (${seconds(longest.startS)} to ${seconds(longest.endS)}).`;
}

interface Judged {
  readonly pull: MixturePull;
  readonly measured: Measured;
}

function placesOf(judged: readonly Judged[], top: Judged, isTripped: boolean): Place[] {
  const at = top.measured.highest;
  const tripped = isTripped
    ? judged.flatMap(({ pull, measured }) =>
        measured.excursions.map((x) => pullPlace(pull.pull, x.startS, x.endS, [x.rpm[0], x.rpm[1]])),
      )
    : [];
  return tripped.length > 0 ? tripped : [pullPlace(top.pull.pull, at.atS, at.atS, [at.rpm, at.rpm])];
}

interface Wording {
  readonly id: string;
  readonly title: (value: number, at: HeldMixture, verdict: Verdict) => string;
  readonly first: readonly string[];
  readonly seen: (at: HeldMixture) => string;
  /** A fault of this size is what `detectable` speaks of. */
  readonly base: number;
  readonly leftOut: 'errorLeftOut' | 'boostedLeftOut';
}

function leanFinding(input: MixtureInput, judged: readonly Judged[], limit: Limit, words: Wording): Finding {
  const { drive, build, lag } = input;
  const rateHz = cleanLambda(drive)?.rateHz ?? Number.NaN;
  const top = judged.reduce((a, b) => (b.measured.highest.value > a.measured.highest.value ? b : a));
  const at = top.measured.highest;
  const plain = judge(at.value, limit);
  const isOne = at.isLone && plain === 'fail';
  const fail = limit.fail ?? limit.warn;
  const isNoisy = plain === 'pass' && fail !== undefined && at.high >= fail;
  const isSlow = plain === 'pass' && rateHz < SLOWEST_HZ * (1 - 1e-6);
  const verdict: Verdict = isNoisy || isSlow ? 'not-assessed' : isOne ? 'warn' : plain;
  const isTripped = verdict === 'warn' || verdict === 'fail';
  const mark = limit.warn ?? limit.fail ?? Number.NaN;
  const others = judged.filter(({ measured }) => judge(measured.highest.value, limit) !== 'pass');
  const size = fail === undefined ? Number.NaN : fail - words.base;
  const shortest = shortestSeenS(rateHz, lag, size, mark - words.base);
  return {
    id: words.id,
    verdict,
    title: words.title(at.value, at, verdict),
    measured: { value: at.value, unit: 'ratio', low: at.low, high: at.high },
    limit: limitShown(limit),
    reasoning: [
      ...words.first,
      lag.note,
      `Pull ${top.pull.pull.id}: ${words.seen(at)} at ${rpmWords(at.rpm)}${boostWords(at)} (${seconds(at.atS)}). Held ${HELD_S} s, ${withInterval(at.value, at.low, at.high, 'ratio', limit)}; ${limitWords(limit)}.`,
      ...judged.map(({ pull, measured }) => excursionWords(pull.pull.id, measured, mark)).filter((text) => text !== ''),
      ...(isTripped && others.length > 1
        ? [`It shows in ${pullNames(others.map(({ pull }) => pull.pull.id))}: it repeats, so it is no chance reading.`]
        : []),
      ...(isOne ? ['One reading alone says so, and at this rate no neighbour confirms it, hence a warning.'] : []),
      ...(isNoisy ? [`The reading is too unsteady to tell this from ${ratio(fail)}.`] : []),
      ...(isSlow
        ? [
            `At ${formatQuantity(rateHz, 'Hz')} a lean stretch of ${seconds(1 / rateHz)} can pass between two readings, so this is no pass.`,
          ]
        : []),
      leftOutWords(input, words.leftOut),
    ].filter((text) => text !== ''),
    where: placesOf(judged, top, isTripped),
    ...(verdict === 'pass'
      ? {
          detectable: `At ${formatQuantity(rateHz, 'Hz')} and with this lag, ${ratio(size)} too lean for ${seconds(shortest)} or longer would have shown; held throughout, ${ratio(Math.max(at.high - at.value, 0.001) + mark - words.base)} would.`,
        }
      : {}),
    causes: isTripped ? leanCauses(drive, build, top.pull, at.atS) : [],
    next: isTripped
      ? [...LEAN_NEXT]
      : verdict === 'not-assessed'
        ? ['Log lambda at 10 Hz or more, with fewer other channels.']
        : [],
  };
}

/** Measured minus asked. */
export function leanErrorFinding(input: MixtureInput, limit: Limit): Finding | undefined {
  const { target, pulls } = input;
  const judged = pulls.flatMap((pull) => (pull.error ? [{ pull, measured: pull.error }] : []));
  if (!target || judged.length === 0) return undefined;
  return leanFinding(input, judged, limit, {
    id: LEAN_ERROR,
    base: 0,
    leftOut: 'errorLeftOut',
    title: (value, at, verdict) =>
      verdict === 'pass'
        ? value > 0
          ? `Full-load mixture is at most ${ratio(value)} leaner than asked`
          : 'Full-load mixture is never leaner than asked'
        : verdict === 'not-assessed'
          ? 'This log cannot show whether full load runs lean'
          : `Mixture ${ratio(value)} leaner than asked at ${rpmWords(at.rpm)}`,
    first: [target.note],
    seen: (at) => `lambda ${ratio(at.lambda)} against ${ratio(at.lambda - at.value)} asked`,
  });
}

/** Lambda itself under boost. */
export function leanLimitFinding(input: MixtureInput, limit: Limit): Finding | undefined {
  const judged = input.pulls.flatMap((pull) => (pull.boosted ? [{ pull, measured: pull.boosted }] : []));
  if (judged.length === 0) return undefined;
  const usual = input.build.fullLoadLambda ?? 0.82;
  const found = leanFinding(input, judged, limit, {
    id: LEAN_LIMIT,
    leftOut: 'boostedLeftOut',
    base: Math.min(usual, (limit.warn ?? limit.fail ?? 1) - 0.01),
    title: (value, at, verdict) =>
      verdict === 'pass'
        ? `Lambda under boost stays at or below ${ratio(value)}`
        : verdict === 'not-assessed'
          ? 'This log cannot show the leanest mixture under boost'
          : `Lambda ${ratio(value)} at ${formatQuantity(at.boostKpa, 'kPa')} boost`,
    first: [`Judged above ${formatQuantity(BOOST_KPA, 'kPa')} of boost, whatever was asked for.`],
    seen: (at) => `lambda ${ratio(at.lambda)}`,
  });
  const asked = input.pulls.flatMap(({ error }) => (error ? [error.highest.lambda - error.highest.value] : []));
  const isAsked =
    found.verdict !== 'pass' && asked.length > 0 && Math.max(...asked) >= (limit.warn ?? Number.POSITIVE_INFINITY);
  return isAsked
    ? {
        ...found,
        reasoning: [...found.reasoning, `It was asked for: the target itself is ${ratio(Math.max(...asked))}.`],
      }
    : found;
}
