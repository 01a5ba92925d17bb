import type { Limit } from '../build-sheet/limit.ts';
import { SAME_WITHIN_PERCENT } from '../drive/duty/choice.ts';
import type { DutyElsewhere } from '../drive/duty/elsewhere.ts';
import { deadTimeAt } from '../drive/duty/next-step.ts';
import type { Duty } from '../drive/duty/series.ts';
import { cycleTimeMs } from '../engine/cycle-time.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { NEXT_STEPS, type PeakInput, percent, STATIC_PERCENT } from './injector-duty-peak.ts';
import { limitShown, pullPlace, rpmWords } from './wording.ts';

const QUESTION: Record<string, string> = {
  twice:
    'The logged duty is about twice the computed one: pulsesPerCycle or the pulse width mapping may be off by two.',
  half: 'The logged duty is about half the computed one: pulsesPerCycle or the duty mapping may be off by two.',
  fraction:
    'The logged duty is far smaller than the computed one: it looks like a fraction, and may need "scale": 100 in the mapping.',
  'other-unit': 'The computed duty is far smaller than the logged one: the pulse width may be in another unit.',
  differs: 'Both cannot be right: one of the two columns may be another quantity, or before a correction.',
};

/** Pulse width and logged duty held against each other. */
export function agreementFinding(input: PeakInput, limit: Limit): Finding | undefined {
  const { choice, drive, build } = input;
  const { agreement } = choice;
  if (!agreement) return undefined;
  const gap = Math.abs(agreement.difference);
  const same = agreement.reading === 'same';
  const dead = deadTimeAt(drive, build, input.peaks[0].atS).ms;
  const deadPercent =
    (100 * dead * build.injectors.pulsesPerCycle) / cycleTimeMs(input.peaks[0].rpm, build.engine.strokes);
  const isNet = !same && Math.abs(agreement.difference + deadPercent) < 0.3 * deadPercent;
  const verdict = same || isNet ? 'pass' : 'warn';
  return {
    id: 'injector-duty.agreement',
    verdict,
    title:
      verdict === 'pass'
        ? 'Pulse width and logged duty agree'
        : 'Pulse width and logged duty disagree: a mapping question',
    measured: { value: gap, unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      `Logged duty minus computed duty in the pulls: ${percent(agreement.difference)} (median of ${agreement.samples}), ratio ${agreement.ratio.toPrecision(3)}; timing alone may make ${percent(agreement.allowance)} of it.`,
      ...(isNet
        ? [`That is the share of the dead time (${percent(deadPercent)}): the logged duty leaves it out.`]
        : []),
      ...(verdict === 'warn' ? [QUESTION[agreement.reading], choice.why] : []),
    ],
    where: verdict === 'warn' ? input.peaks.map(({ pull }) => pullPlace(pull)) : [],
    ...(verdict === 'pass'
      ? {
          detectable: `A disagreement of ${percent(SAME_WITHIN_PERCENT + agreement.allowance)} or more would have shown.`,
        }
      : {}),
    causes: [],
    next: verdict === 'warn' ? [NEXT_STEPS.mapping] : [],
  };
}

/** A measured duty far below what the air mass asks for cannot be trusted to pass. */
const FAR_BELOW_MODEL = 1 / 1.75;

export function modelCheckFinding({ choice, peaks }: PeakInput, limit: Limit): Finding | undefined {
  const { overModel } = choice;
  if (overModel === undefined || overModel > FAR_BELOW_MODEL) return undefined;
  const peak = peaks.reduce((a, b) => (b.value > a.value ? b : a));
  const gap = peak.value / overModel - peak.value;
  return {
    id: 'injector-duty.model-check',
    verdict: 'warn',
    title: 'Duty is far below what the air mass asks for: a mapping question',
    measured: { value: gap, unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      `The judged duty is ${overModel.toPrecision(2)} times what airflow, mixture and the injector flow of the build sheet ask for (a model good to about ±15 %).`,
      'A factor near 0.5 points at pulsesPerCycle: injectors that fire twice a cycle need 2. Else the injector flow in the build sheet may be too small.',
    ],
    where: [pullPlace(peak.pull, peak.atS, peak.atS, [peak.rpm, peak.rpm])],
    causes: [],
    next: [NEXT_STEPS.mapping, 'Check injectors.flow and injectors.ratedPressure in the build sheet.'],
  };
}

/** Duty above the mark outside the judged pulls: told, and a warning where it lasts. */
export function elsewhereFinding(duty: Duty, elsewhere: DutyElsewhere, limit: Limit): Finding | undefined {
  const { longest } = elsewhere;
  if (!longest) return undefined;
  const lasting = longest.endS - longest.startS;
  if (lasting < 0.3) return undefined;
  return {
    id: 'injector-duty.elsewhere',
    verdict: 'warn',
    title: `${percent(elsewhere.value)} duty outside the judged pulls`,
    measured: { value: elsewhere.value, unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      `Outside the judged pulls duty reached ${percent(elsewhere.value)} at ${rpmWords(elsewhere.rpm)} (${formatQuantity(elsewhere.atS, 's')}), and stayed at or above ${percent(limit.warn ?? limit.fail ?? STATIC_PERCENT)} for ${formatQuantity(lasting, 's')}.`,
      `That is no settled full load, so it warns and does not fail${duty.source === 'pulse-width' ? '; acceleration enrichment can make it' : ''}.`,
    ],
    where: [{ start: longest.startS, end: longest.endS }],
    causes: [],
    next: ['Look at that stretch of the log: what the pedal and the mixture did.'],
  };
}
