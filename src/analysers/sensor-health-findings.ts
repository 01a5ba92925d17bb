import type { Drive } from '../drive/drive.ts';
import { type Check, type Doubt, type Span, sentence } from '../drive/health/doubt.ts';
import type { MixtureLag } from '../drive/health/lag.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding, Place, Verdict } from './finding.ts';
import { notAssessedFinding, pullPlace } from './wording.ts';

export const NO_SOURCE = 'common practice, no source';

/** More places than this say no more. */
const MOST_PLACES = 20;

const VERDICT: Record<Doubt['gravity'], Verdict> = { tell: 'pass', warn: 'warn', fail: 'fail' };
const RANK: readonly Doubt['gravity'][] = ['tell', 'warn', 'fail'];

/** A question put to several channels at once. */
export interface Topic {
  readonly id: string;
  /** Title where nothing was found. */
  readonly clean: string;
  /** Smallest fault that would have shown. */
  readonly detectable: string;
  /** Why nothing could be checked. */
  readonly unchecked: string;
}

function placeOf(drive: Drive, span: Span): Place {
  const inPull = drive.pulls.find(
    (pull) => span.startS >= pull.startS - 1e-6 && span.endS <= pull.endS + 1e-6 && span.endS >= span.startS,
  );
  return inPull ? pullPlace(inPull, span.startS, span.endS) : { start: span.startS, end: span.endS };
}

/** More names than this are told as a number. */
const MOST_NAMES = 12;

function checkedWords(names: readonly string[]): string {
  const unique = [...new Set(names)];
  return unique.length > MOST_NAMES ? `Checked: ${unique.length} channels.` : `Checked: ${unique.join('; ')}.`;
}

/** All that one question found, as one finding: the gravest first. */
export function topicFinding(drive: Drive, topic: Topic, checks: readonly Check[]): Finding {
  const checked = checks.flatMap((check) => check.checked);
  const doubts = checks
    .flatMap((check) => check.doubts)
    .toSorted((a, b) => RANK.indexOf(b.gravity) - RANK.indexOf(a.gravity));
  if (checked.length === 0 && doubts.length === 0) {
    return notAssessedFinding(topic.id, `${topic.clean.split(':')[0]}: not checked`, topic.unchecked);
  }
  const worst = doubts[0];
  const verdict = worst ? VERDICT[worst.gravity] : 'pass';
  const grave = doubts.filter(({ gravity }) => gravity !== 'tell');
  const isClean = grave.length === 0;
  const shown = isClean ? doubts : grave;
  const { measured } = worst ?? {};
  return {
    id: topic.id,
    verdict,
    title: shown.length > 0 ? sentence(shown.map(({ short }) => short).join('; ')) : topic.clean,
    ...(measured && { measured: { value: measured.value, unit: measured.unit } }),
    ...(measured &&
      !isClean && {
        limit: { [worst.gravity]: measured.mark, unit: measured.unit, source: NO_SOURCE },
      }),
    reasoning: [...doubts.flatMap(({ said }) => said), checkedWords(checked)],
    where: shown
      .flatMap(({ where }) => where)
      .slice(0, MOST_PLACES)
      .map((span) => placeOf(drive, span)),
    ...(isClean && { detectable: topic.detectable }),
    causes: [],
    next: [...new Set(shown.flatMap(({ next }) => next))],
  };
}

/** The mixture sensor is that late: a lean moment shorter than this does not show. */
const LATE_S = 1;

/** How late the mixture sensor is behind fuel cuts. */
export function lagFinding(drive: Drive, lag: MixtureLag): Finding {
  const id = 'sensor-health.lag';
  const n = lag.events.length;
  const seen = lag.events.filter(({ delayS }) => delayS !== undefined).length;
  const where = lag.events.slice(0, MOST_PLACES).map((event) => placeOf(drive, event));
  const cut = lag.cutBy === 'injector_duty' ? 'injector duty' : 'pulse width';
  const detectable = `A delay of more than ${formatQuantity(LATE_S + lag.resolutionS, 's')}; the rates of the two channels leave ${formatQuantity(lag.resolutionS, 's')} open.`;
  if (lag.delayS === undefined) {
    return {
      id,
      verdict: 'pass',
      title: 'Lambda does not show fuel cut',
      reasoning: [
        `In ${n} fuel cut${n === 1 ? '' : 's'} (${cut} at 0) lambda never went lean. Some controllers hold it there; if this one does not, lambda is not the measured mixture.`,
      ],
      where,
      detectable,
      causes: [],
      next: ['Check that the mapped column is the measured mixture and not a target.'],
    };
  }
  const isLate = lag.delayS - lag.resolutionS >= LATE_S;
  return {
    id,
    verdict: isLate ? 'warn' : 'pass',
    title: `Lambda follows fuel cut after ${formatQuantity(lag.delayS, 's')}`,
    measured: {
      value: lag.delayS,
      unit: 's',
      low: Math.max(0, lag.delayS - lag.resolutionS),
      high: lag.delayS + lag.resolutionS,
    },
    ...(isLate && { limit: { warn: LATE_S, unit: 's', source: NO_SOURCE } }),
    reasoning: [
      `In ${seen} of ${n} fuel cut${n === 1 ? '' : 's'} (${cut} at 0) lambda went to its lean end; half of the way was passed ${formatQuantity(lag.delayS, 's')} after the cut in the middle, within ${formatQuantity(lag.resolutionS, 's')}. That is the way of the exhaust to the sensor plus the sensor and its filter.`,
      isLate
        ? `From ${formatQuantity(LATE_S, 's')} on mixture cannot be put to an engine speed in a pull, and short lean moments do not show.`
        : 'At full load the exhaust is faster, so in a pull the delay is shorter than that.',
    ],
    where,
    ...(!isLate && { detectable }),
    causes: [],
    next: isLate
      ? [
          'Check the age and place of the mixture sensor and the filter of its controller.',
          'Read lambda in pulls earlier than logged by that delay.',
        ]
      : [],
  };
}
