// Question: is there injector left at the top of the pull, and at the next step?
// An injector near 100 % duty has no time left to close: flow stops following the command and the mixture goes lean at the worst moment.
// Duty = pulse width × engine speed / 1200 × pulses per cycle (four-stroke; 600 for a two-stroke): pulse width over the cycle time.
import { judge, limitOf } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { injectorDutyOf } from '../drive/duty/choice.ts';
import { dutyElsewhere } from '../drive/duty/elsewhere.ts';
import { dutyPeak } from '../drive/duty/peak.ts';
import { carryToRedline } from '../drive/duty/redline.ts';
import { dutyRestsOn } from '../drive/duty/rests-on.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { brokenClause, FROZEN_NEXT, livePulls } from './frozen-pulls.ts';
import { agreementFinding, elsewhereFinding, modelCheckFinding } from './injector-duty-doubts.ts';
import { CLOSED_TIME, closedTimeFinding, PEAK, peakFinding } from './injector-duty-peak.ts';
import { nextStepFinding, redlineFinding } from './injector-duty-projections.ts';
import { dutyTable } from './injector-duty-table.ts';
import { keptOpen } from './kept-open.ts';
import { notAssessedFinding, rpmWords } from './wording.ts';

const NO_SOURCE = 'common practice, no source';
const AGREEMENT = 'injector-duty.agreement';

const meta: AnalyserMeta = {
  id: 'injector-duty',
  title: 'Injector duty',
  question: 'Is there injector left at the top of the pull, and at the next step?',
  needs: [['engine_speed'], ['injector_pulse_width', 'injector_duty', 'mass_air_flow', 'manifold_pressure']],
  helps: [
    'injector_pulse_width',
    'injector_duty',
    'battery_voltage',
    'fuel_rail_pressure',
    'lambda',
    'ethanol_content',
    'charge_air_temperature',
  ],
  formula:
    'duty (%) = pulse width (ms) × engine speed (rpm) / 1200 × pulses per cycle; four-stroke, / 600 for a two-stroke',
  physics:
    'An injector takes about 1 ms to open and to close, however fast the engine turns, while the time of a cycle shrinks with engine speed. ' +
    'Near 100 % duty the closing is lost and the injector stays open: fuel stops following the command. ' +
    'What is left below that is also the reserve for enrichment, low voltage and falling fuel pressure.',
  limits: [
    { id: PEAK, title: 'Peak duty in a pull', unit: '%', warn: 85, fail: 92, source: NO_SOURCE },
    {
      id: CLOSED_TIME,
      title: 'Dead time as a share of the closed time left',
      unit: '%',
      warn: 100,
      fail: undefined,
      source: NO_SOURCE,
    },
    {
      id: AGREEMENT,
      title: 'Difference between computed and logged duty',
      unit: '%',
      warn: 5,
      fail: undefined,
      source: NO_SOURCE,
    },
  ],
  cannotSee: [
    'A blocked or leaking single injector: the command is the same for all.',
    'Direct injection: its window is a part of the cycle, so duty over the whole cycle flatters it.',
    'What the engine would ask for at speeds and boost that were not driven, except by projection.',
  ],
  cautions: ['An injector at its limit leans the mixture out at full load: stop the pull when duty nears 100 %.'],
};

/** A duty outside the pulls that is worth a word. */
const TOLD_ELSEWHERE_PERCENT = 50;

const notJudged = (finding: Finding, needs: readonly string[]): Assessment => ({
  summary: `${finding.title}.`,
  findings: [finding],
  needs,
  tables: [],
});

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const limit = limitOf(limits, PEAK);
  if (!drive.recording.channels.has('engine_speed')) {
    return notJudged(
      notAssessedFinding(PEAK, 'Injector duty needs engine speed', 'Engine speed is not logged.', [
        'Log engine speed.',
      ]),
      ['engine_speed'],
    );
  }
  const pulls = drive.pulls.filter((pull) => pull.usable && pull.fitness.duty.ok);
  const answer = injectorDutyOf(drive, build);
  if (answer.kind === 'missing' && drive.pulls.some((pull) => pull.usable)) {
    return notJudged(
      notAssessedFinding(
        PEAK,
        'Injector duty is not known',
        'Neither pulse width nor duty is logged, and a model needs more than the log and the build sheet give.',
        ['Log injector pulse width at 10 Hz or more.'],
      ),
      ['injector_pulse_width', 'injector_duty', ...answer.missing],
    );
  }
  if (answer.kind === 'unbelievable') {
    return notJudged(
      notAssessedFinding(
        PEAK,
        'Injector duty is too small to be true',
        `At full load the ${answer.duty.source === 'logged' ? 'logged' : 'computed'} duty comes to ${formatQuantity(answer.topPercent, '%')}. No engine runs on that: the column is in another unit (a fraction needs "scale": 100, seconds need "unit": "s"), or it is another quantity.`,
        ['Mend the unit or scale of injector_pulse_width or injector_duty in the mapping.'],
      ),
      ['injector_pulse_width', 'injector_duty'],
    );
  }
  const choice = answer.kind === 'chosen' ? answer.choice : undefined;
  const restsOn = choice ? dutyRestsOn(drive, build, choice.duty.source) : [];
  const live = livePulls(drive, pulls, restsOn, (pull) => pull, brokenClause);
  if (pulls.length > 0 && live.pulls.length === 0) {
    return notJudged(notAssessedFinding(PEAK, 'No pull shows injector duty', live.said.join(' '), [FROZEN_NEXT]), [
      ...restsOn,
    ]);
  }
  const peaks = choice
    ? live.pulls.map((pull) => dutyPeak(drive, choice.duty, pull)).filter((peak) => peak !== undefined)
    : [];
  const elsewhere =
    choice &&
    dutyElsewhere(
      choice.duty,
      peaks.map((p) => p.pull),
      limit.warn ?? limit.fail ?? 100,
    );
  const elsewhereWords = elsewhere
    ? ` The highest duty seen elsewhere was ${formatQuantity(elsewhere.value, '%')} at ${rpmWords(elsewhere.rpm)}.`
    : '';
  if (!choice || peaks.length === 0) {
    const why =
      drive.pulls.length === 0
        ? 'The log holds no full-load pull.'
        : `No pull can be judged: ${drive.pulls.map((p) => (p.fitness.duty.ok ? `pull ${p.id} is not usable` : `pull ${p.id}: ${p.fitness.duty.why}`)).join('; ')}.`;
    const open = notAssessedFinding(PEAK, 'No pull shows injector duty', why + elsewhereWords, [
      'Drive a full-load pull in one gear to near the redline.',
    ]);
    const grave = choice && elsewhere && elsewhereFinding(choice.duty, elsewhere, limit);
    const needs = answer.kind === 'missing' ? answer.missing : ['a full-load pull'];
    return {
      summary: `${open.title}.`,
      findings: grave ? [open, grave] : [open],
      needs,
      tables: drive.pulls.length > 0 ? [dutyTable(drive, [])] : [],
    };
  }
  const input = { drive, build, choice, peaks, limit };
  const peak = peakFinding(input);
  const carry = carryToRedline(
    choice.duty,
    peaks.map((p) => p.pull),
    build.engine.redlineRpm,
  );
  const findings = [
    {
      ...peak,
      reasoning: [
        ...peak.reasoning,
        ...live.said,
        ...(elsewhere && elsewhere.value >= TOLD_ELSEWHERE_PERCENT ? [elsewhereWords.trim()] : []),
      ],
    },
    closedTimeFinding(input, limitOf(limits, CLOSED_TIME)),
    carry && redlineFinding(choice, carry, limit),
    nextStepFinding(input),
    agreementFinding(input, limitOf(limits, AGREEMENT)),
    modelCheckFinding(input, limitOf(limits, AGREEMENT)),
    elsewhere && elsewhereFinding(choice.duty, elsewhere, limit),
  ].filter((finding) => finding !== undefined);
  const worstPeak = Math.max(...peaks.map((p) => p.value));
  const word = { pass: 'below', warn: 'at or above', fail: 'at or above' }[judge(worstPeak, limit)];
  const mark = judge(worstPeak, limit) === 'fail' ? limit.fail : (limit.warn ?? limit.fail);
  return {
    summary: `${peak.title} over ${peaks.length} pull${peaks.length === 1 ? '' : 's'}${mark === undefined ? '' : `, ${word} ${formatQuantity(mark, '%')}`}.`,
    findings: keptOpen(peak, findings),
    needs:
      choice.duty.source === 'modelled'
        ? ['injector_pulse_width']
        : carry?.kind === 'too-far'
          ? ['a pull to near the redline']
          : [],
    tables: [dutyTable(drive, peaks, restsOn)],
  };
}

export const injectorDuty: Analyser = { meta, assess };
