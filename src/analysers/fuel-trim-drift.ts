import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drift } from '../drive/trim/drift.ts';
import type { BankTrims, TrimSurvey } from '../drive/trim/total-trim.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, Finding } from './finding.ts';
import { secondsWords, signedPercent } from './fuel-trim-words.ts';
import { limitShown, limitWords, notAssessedFinding } from './wording.ts';

const ID = 'fuel-trim.drift';
type Assessed = Extract<Drift, { assessed: true }>;

const NEXT = [
  'Note fuel level, fuel temperature and ambient temperature of the run, and log the same route again.',
  'Log fuel pressure and intake air temperature beside the trims.',
  'Check purge: clamp the line and see whether the movement stops.',
];

function causes(change: Assessed): Cause[] {
  const seen = `Total trim moves by ${signedPercent(change.perMinute)} a minute in the same operating regions.`;
  return change.changePercent > 0
    ? [
        { cause: 'Fuel pressure or pump output sags as the fuel heats up', for: [seen], against: [] },
        { cause: 'An air or exhaust leak that opens with heat', for: [seen], against: [] },
        { cause: 'Fuel in the rail changes to a blend with more ethanol after filling up', for: [seen], against: [] },
        { cause: 'Long term trim still learning a wrong base fuelling', for: [seen], against: [] },
      ]
    : [
        { cause: 'Canister purge delivers more and more vapour', for: [seen], against: [] },
        { cause: 'Fuel in the oil evaporates as the oil gets hot', for: [seen], against: [] },
        { cause: 'Fuel in the rail changes to a blend with less ethanol after filling up', for: [seen], against: [] },
        { cause: 'Airflow or intake air temperature reading moves with heat soak', for: [seen], against: [] },
      ];
}

const isAssessed = (bank: BankTrims): bank is BankTrims & { drift: Assessed } => bank.drift.assessed;

/** Significant movements first, the largest first. */
function worstDrift(banks: readonly BankTrims[]) {
  return banks
    .filter(isAssessed)
    .sort(
      (a, b) =>
        Number(b.drift.significant) - Number(a.drift.significant) ||
        Math.abs(b.drift.changePercent) - Math.abs(a.drift.changePercent),
    )[0];
}

function driftWords(bank: BankTrims & { drift: Assessed }): string {
  const { drift } = bank;
  return (
    `Bank ${bank.bank}: ${signedPercent(drift.perMinute)} a minute (Theil–Sen over ${drift.blocks} blocks of ${drift.blockS.toFixed(0)} s, differences within the same cells only), ` +
    `which is ${signedPercent(drift.changePercent)} over ${secondsWords(drift.spanS)} (${signedPercent(drift.lowPercent)} to ${signedPercent(drift.highPercent)}). ` +
    `Last third against first third: ${signedPercent(drift.lateMinusEarly)}. Mann–Kendall p = ${drift.p < 0.001 ? 'below 0.001' : drift.p.toFixed(3)}, corrected for autocorrelation.`
  );
}

/** Whether the total trim moves over the log in the same operating regions. */
export function driftFinding(survey: TrimSurvey, limit: Limit): Finding {
  const bank = worstDrift(survey.banks);
  if (!bank) {
    const why = [...new Set(survey.banks.flatMap((b) => (b.drift.assessed ? [] : [b.drift.why])))].join('; ');
    return notAssessedFinding(ID, 'Movement of the trims could not be judged', `Not assessed: ${why}.`, [
      'Log at least five minutes warm, with the same cruise and idle early and late in the log.',
    ]);
  }
  const { drift } = bank;
  const steps = !drift.significant && drift.isStep && judge(Math.abs(drift.lateMinusEarly), limit) !== 'pass';
  const moves = drift.significant || steps;
  const change = steps ? drift.lateMinusEarly : drift.changePercent;
  const value = Math.abs(change);
  const half = (drift.highPercent - drift.lowPercent) / 2;
  const smallest = Math.max(half, formatFloor(survey));
  const tripped = judge(value, limit) !== 'pass';
  const warmUp = 'Warm-up is left out, and so is the early part where it was still adapting.';
  const fails = limit.fail ?? limit.warn ?? Number.POSITIVE_INFINITY;
  if (!moves && (tripped || half >= fails)) {
    return {
      ...notAssessedFinding(
        ID,
        'Movement of the trims is too uncertain to judge',
        `${driftWords(bank)} Scatter alone could give this, so nothing is concluded; ${limitWords(limit)}.`,
        ['Log longer, with the same cruise and idle early and late in the log.'],
      ),
      measured: measuredDrift(drift),
      limit: limitShown(limit),
    };
  }
  const verdict = moves ? judge(value, limit) : 'pass';
  const places = [{ start: drift.startS, end: drift.endS }];
  const hence = moves
    ? `${steps ? 'The two thirds lie clearly apart: a lasting step' : 'The movement is significant'}; ${limitWords(limit)}.`
    : `No significant movement; ${limitWords(limit)}.`;
  return {
    id: ID,
    verdict,
    title:
      verdict === 'pass'
        ? 'Trims stay where they are over the log'
        : `Total trim of bank ${bank.bank} moves by ${signedPercent(change, limit)} over the log`,
    measured: steps ? { value, unit: '%' } : measuredDrift(drift),
    limit: limitShown(limit),
    reasoning: [driftWords(bank), `${hence} ${warmUp}`],
    where: places,
    detectable: `A movement of about ${formatQuantity(smallest, '%')} over ${secondsWords(drift.spanS)} in the cells that were visited more than once.`,
    causes: verdict === 'pass' ? [] : causes(drift),
    next: verdict === 'pass' ? [] : NEXT,
  };
}

/** Half a step of the trims: less cannot be seen. */
function formatFloor(survey: TrimSurvey): number {
  return Math.max(...survey.grid.banks.map((bank) => bank.stepPercent / 2), 0.1);
}

function measuredDrift(drift: Assessed) {
  const [low, high] =
    drift.changePercent >= 0 ? [drift.lowPercent, drift.highPercent] : [-drift.highPercent, -drift.lowPercent];
  return { value: Math.abs(drift.changePercent), unit: '%', low: Math.max(0, low), high };
}
