import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import type { Cell } from '../drive/trim/cells.ts';
import { trimPattern } from '../drive/trim/pattern.ts';
import type { BankTrims, TrimSurvey } from '../drive/trim/total-trim.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { readPattern } from './fuel-trim-causes.ts';
import {
  adaptationWords,
  cellPlaces,
  cellWords,
  conditionWords,
  coverageWords,
  exclusionWords,
  regionWords,
  signedPercent,
} from './fuel-trim-words.ts';
import { limitShown, limitWords, notAssessedFinding } from './wording.ts';

const ID = 'fuel-trim.level';

/** A trim that is not logged may hold this much, %: the interval is widened by it. Common practice, no source. */
const WIDENED: Readonly<Record<BankTrims['parts'], number>> = { both: 0, long: 3, short: 5 };

const CELLS: Readonly<Record<TrimSurvey['partition']['name'], string>> = {
  fine: 'cells are narrow bands of engine speed and load',
  broad: 'cells are broad bands of engine speed and load, as narrow ones hold too little time each',
  load: 'cells are bands of load only, as the log is short',
  'off idle': 'cells are idle and everything off idle, as the log is short',
};

/** A dwell that would do, were the trims steadier, s. */
const HELD_S = 15;

interface Worst {
  readonly bank: BankTrims;
  readonly cell: Cell;
}

function worstCell(banks: readonly BankTrims[]): Worst | undefined {
  let worst: Worst | undefined;
  for (const bank of banks) {
    for (const cell of bank.cells) {
      if (!cell.judged) continue;
      if (!worst || Math.abs(cell.medianPercent) > Math.abs(worst.cell.medianPercent)) worst = { bank, cell };
    }
  }
  return worst;
}

function magnitude({ bank, cell }: Worst) {
  const wide = WIDENED[bank.parts];
  const [low, high] =
    cell.medianPercent >= 0 ? [cell.lowPercent, cell.highPercent] : [-cell.highPercent, -cell.lowPercent];
  return { value: Math.abs(cell.medianPercent), unit: '%', low: Math.max(0, low - wide), high: high + wide };
}

/** A cell whose level may lie beyond the fail limit, by its interval: its trims moved while it was visited, and a median in the middle tells nothing. */
function cellReaching(survey: TrimSurvey, limit: Limit): Worst | undefined {
  const most = limit.fail ?? limit.warn ?? Number.POSITIVE_INFINITY;
  for (const bank of survey.banks) {
    const cell = bank.cells.find((one) => one.judged && Math.max(one.highPercent, -one.lowPercent) >= most);
    if (cell) return { bank, cell };
  }
  return undefined;
}

/** Cells that would trip the limit but are known too poorly to be held against it. */
function beyondButThin(survey: TrimSurvey, limit: Limit): string[] {
  const thin = survey.banks.flatMap((bank) =>
    bank.cells
      .filter((cell) => !cell.judged && cell.dwellS >= 2 && judge(Math.abs(cell.medianPercent), limit) !== 'pass')
      .map((cell) => cellWords(bank.bank, cell, survey.axis)),
  );
  if (thin.length === 0) return [];
  return [
    `Beyond the limit, but held too briefly or too unsteadily to be judged: ${thin.slice(0, 3).join('; ')}. Hold the same point for half a minute to settle it.`,
  ];
}

/** Why no cell could be judged, and what log would let it. */
function nothingJudged(survey: TrimSurvey, limit: Limit): Finding {
  const { warmth, loop } = survey.selection;
  const held = survey.banks.some((bank) => bank.cells.some((cell) => cell.dwellS >= HELD_S));
  const cold =
    warmth.neverWarmMaxDegC === undefined
      ? []
      : [`The engine never got warm: the highest temperature is ${formatQuantity(warmth.neverWarmMaxDegC, 'degC')}.`];
  const open = loop.closed.some((closed) => closed === 1) ? [] : ['Closed loop was never seen.'];
  const finding = notAssessedFinding(
    ID,
    'Base fuelling could not be judged',
    held
      ? 'Regions were held long enough, but the trims moved too much within them or between visits to give a level.'
      : 'No operating region was held warm, in closed loop and steady for long enough.',
    ['Log a warm engine: a minute of idle, then steady cruise at two or three loads, a minute each.'],
  );
  return {
    ...finding,
    reasoning: [
      ...finding.reasoning,
      ...beyondButThin(survey, limit),
      ...cold,
      ...open,
      exclusionWords(survey),
      warmth.note,
      loop.note,
      ...conditionWords(survey),
    ],
  };
}

/** The worst steady cell against its limit, with the pattern over load as its causes. */
export function levelFinding(drive: Drive, build: Build, survey: TrimSurvey, limit: Limit): Finding {
  const worst = worstCell(survey.banks);
  if (!worst) return nothingJudged(survey, limit);
  const { bank, cell } = worst;
  const measured = magnitude(worst);
  const plain = judge(measured.value, limit);
  const reaching = plain === 'pass' ? cellReaching(survey, limit) : undefined;
  const verdict = reaching ? 'not-assessed' : plain;
  const pattern = trimPattern(bank.cells, survey.axis?.unit ?? '');
  const reading = readPattern(drive, build, pattern);
  const judged = survey.banks.flatMap((each) => each.cells.filter((c) => c.judged));
  const others = survey.banks
    .filter((each) => each !== bank)
    .map((each) => worstCell([each]))
    .filter((other) => other !== undefined)
    .map((other) => `Next to it, ${cellWords(other.bank.bank, other.cell, survey.axis)}.`);
  const widest = Math.max(
    ...judged.map((c) => Math.max(c.highPercent - c.medianPercent, c.medianPercent - c.lowPercent)),
  );
  const axis = survey.axis
    ? `Load is ${survey.axis.name}; ${CELLS[survey.partition.name]}.`
    : 'No load channel is readable; cells are bands of engine speed only.';
  const way =
    cell.medianPercent >= 0
      ? 'fuel is added: the base fuelling is lean'
      : 'fuel is taken away: the base fuelling is rich';
  return {
    id: ID,
    verdict,
    title:
      verdict === 'not-assessed'
        ? 'Trims moved too much within a cell to give a level'
        : verdict === 'pass'
          ? 'Closed loop hardly has to correct the base fuelling'
          : `Closed loop corrects the base fuelling by ${signedPercent(cell.medianPercent, limit)} at ${regionWords(cell.region, survey.axis)}, bank ${bank.bank}`,
    measured,
    limit: limitShown(limit),
    reasoning: [
      `Worst of ${judged.length} judged cells: ${cellWords(bank.bank, cell, survey.axis, limit)}; ${limitWords(limit)}. ${signedPercent(cell.medianPercent, limit)} means ${way} there.`,
      ...(reaching
        ? [
            `Not judged: the level of ${cellWords(reaching.bank.bank, reaching.cell, survey.axis)} may lie beyond the limit, as the trims moved while it was visited.`,
          ]
        : []),
      ...others,
      ...beyondButThin(survey, limit),
      `Total trim = (1 + short/100)(1 + long/100) − 1. ${exclusionWords(survey)}`,
      `${survey.selection.warmth.note} ${survey.selection.loop.note} ${axis}`,
      plain === 'pass' ? pattern.evidence : `${pattern.evidence} ${reading.reading}`,
      ...survey.banks.map(adaptationWords),
      ...conditionWords(survey),
      coverageWords(survey, build.engine.redlineRpm),
    ],
    where: cellPlaces(cell),
    detectable: `A steady correction of ${formatQuantity(widest + WIDENED[bank.parts], '%')} or more in any judged cell; nothing in cells that were not visited, and nothing at full load.`,
    causes: plain === 'pass' ? [] : reading.causes,
    next: reaching
      ? ['Find what changed during the log, then hold the same points again, half a minute each.']
      : plain === 'pass'
        ? []
        : reading.next,
  };
}

/** Regions seen only while the trims still adapted: shown, not judged. */
export function adaptationFindings(survey: TrimSurvey): Finding[] {
  const open = survey.banks.flatMap((bank) =>
    bank.earlyCells.filter((cell) => cell.judged).map((cell) => ({ bank, cell })),
  );
  if (open.length === 0) return [];
  const finding = notAssessedFinding(
    'fuel-trim.adaptation',
    'Some cells were only visited while the trims still adapted',
    `${open.map(({ bank, cell }) => cellWords(bank.bank, cell, survey.axis)).join('; ')}. ${open.length === 1 ? 'It is' : 'They are'} not held against the limit.`,
    [
      `Visit again once the trims have settled: ${[...new Set(open.map(({ cell }) => regionWords(cell.region, survey.axis)))].join('; ')}.`,
    ],
  );
  return [{ ...finding, where: open.flatMap(({ cell }) => cellPlaces(cell, 1)) }];
}
