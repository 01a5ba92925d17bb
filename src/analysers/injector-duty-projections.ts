import { judge, type Limit } from '../build-sheet/limit.ts';
import type { DutyChoice } from '../drive/duty/choice.ts';
import { nextStepDuty } from '../drive/duty/next-step.ts';
import type { Carry } from '../drive/duty/redline.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { NEXT_STEPS, type PeakInput, percent } from './injector-duty-peak.ts';
import { limitShown, limitWords, notAssessedFinding, pullPlace, rpmWords, withInterval } from './wording.ts';

/** Duty carried to the redline; a projection warns, it never fails. */
export function redlineFinding(choice: DutyChoice, carry: Carry, limit: Limit): Finding | undefined {
  const id = 'injector-duty.redline';
  if (carry.kind === 'reached') return undefined;
  if (carry.kind === 'too-far') {
    return notAssessedFinding(
      id,
      'Duty at the redline is not known',
      `The pulls end at ${rpmWords(carry.topRpm)}, too far below the redline to carry duty there.`,
      ['Drive one pull to near the redline.'],
    );
  }
  const { duty } = carry;
  const verdict = judge(duty.value, limit) === 'pass' ? 'pass' : 'warn';
  const basis = `${duty.samples} updates between ${rpmWords(duty.fromRpm[0])} and ${rpmWords(duty.fromRpm[1])} of pull ${duty.pull.id}`;
  return {
    id,
    verdict,
    title: `${percent(duty.value)} duty expected at the ${rpmWords(duty.toRpm)} redline`,
    measured: { value: duty.value, unit: '%', low: duty.low, high: duty.high },
    limit: limitShown(limit),
    reasoning: [
      `The pulls end at ${rpmWords(duty.pull.rpm[1])}, short of the redline.`,
      `Pulse width changes by ${percent(duty.slopePercentPer1000Rpm)} per 1,000 rpm (robust line, ${basis}).`,
      `Carried to ${rpmWords(duty.toRpm)}: ${withInterval(duty.value, duty.low, duty.high, '%', limit)}, ${limitWords(limit)}.`,
      ...(verdict === 'warn' ? ['This is a projection and not a measurement, so it warns and does not fail.'] : []),
    ],
    where: [pullPlace(duty.pull)],
    ...(verdict === 'pass'
      ? {
          detectable: `A duty at the redline of ${percent(duty.high - duty.value)} more than expected is within the interval.`,
        }
      : {}),
    causes:
      choice.duty.source === 'modelled'
        ? [{ cause: 'The model runs high', for: ['duty is not logged'], against: [] }]
        : [],
    next:
      verdict === 'warn'
        ? ['Log one pull to the redline, watching duty, before relying on the top.', NEXT_STEPS.hold]
        : [],
  };
}

/** Duty at the next step's boost: a projection, which warns from the warn limit on and never fails. */
export function nextStepFinding(input: PeakInput): Finding | undefined {
  const { drive, build, peaks, limit } = input;
  const peak = peaks.reduce((a, b) => (b.value > a.value ? b : a));
  const step = nextStepDuty(drive, build, peak);
  if (!step || build.nextStepBoostKpa === undefined) return undefined;
  const verdict = judge(step.value, limit) === 'pass' ? 'pass' : 'warn';
  return {
    id: 'injector-duty.next-step',
    verdict,
    title: `${percent(step.value)} duty expected at the next step of ${formatQuantity(build.nextStepBoostKpa, 'kPa')} boost`,
    measured: { value: step.value, unit: '%', low: step.low, high: step.high },
    limit: limitShown(limit),
    reasoning: [
      `At the peak the manifold held ${formatQuantity(step.manifoldKpaNow, 'kPa')} absolute; the next step means ${formatQuantity(step.manifoldKpaNext, 'kPa')}.`,
      `Open time less dead time grows with air mass: ${withInterval(step.value, step.low, step.high, '%', limit)}, a 90 % interval, at ${rpmWords(peak.rpm)}, ${limitWords(limit)}.`,
      ...(verdict === 'warn' ? ['This is a projection and not a measurement, so it warns and does not fail.'] : []),
    ],
    where: [pullPlace(peak.pull, peak.atS, peak.atS, [peak.rpm, peak.rpm])],
    ...(verdict === 'pass'
      ? { detectable: `A step that needs ${percent(limit.warn ?? limit.fail ?? 100)} or more would have been told.` }
      : {}),
    causes: [],
    next: verdict === 'warn' ? ['Settle injectors and fuel pressure before the next step of boost.'] : [],
  };
}
