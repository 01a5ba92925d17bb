import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Cell } from '../drive/trim/cells.ts';
import type { TrimSurvey } from '../drive/trim/total-trim.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, Finding } from './finding.ts';
import { cellPlaces, regionWords, secondsWords, signedPercent } from './fuel-trim-words.ts';
import { limitShown, limitWords, notAssessedFinding } from './wording.ts';

const ID = 'fuel-trim.bank-split';
/** Banks that are corrected in opposite ways by this much look as if their sensors were swapped, %. */
const CROSSED_PERCENT = 8;

function bankLevel(survey: TrimSurvey, bank: number, key: string): number | undefined {
  return survey.banks.find((b) => b.bank === bank)?.cells.find((cell) => cell.region.key === key)?.medianPercent;
}

function causes(survey: TrimSurvey, cell: Cell): Cause[] {
  const one = bankLevel(survey, 1, cell.region.key);
  const two = bankLevel(survey, 2, cell.region.key);
  const levels =
    one === undefined || two === undefined
      ? `Bank 2 minus bank 1 is ${signedPercent(cell.medianPercent)}.`
      : `Bank 1 is at ${signedPercent(one)}, bank 2 at ${signedPercent(two)}.`;
  const lean = cell.medianPercent > 0 ? 2 : 1;
  const list: Cause[] = [
    {
      cause: `Exhaust leak ahead of the lambda sensor of bank ${lean}, or that sensor reading lean`,
      for: [levels],
      against: [],
    },
    { cause: `Intake leak at a runner of bank ${lean}`, for: [levels], against: [] },
    { cause: `Injectors of bank ${lean} deliver less than those of the other bank`, for: [levels], against: [] },
  ];
  if (
    one !== undefined &&
    two !== undefined &&
    one * two < 0 &&
    Math.min(Math.abs(one), Math.abs(two)) >= CROSSED_PERCENT
  ) {
    list.unshift({
      cause: 'Lambda sensors of the two banks swapped',
      for: [`${levels} They are corrected in opposite ways.`],
      against: [],
    });
  }
  return list;
}

/** Whether the two banks are corrected alike: worst judged cell of bank 2 minus bank 1. */
export function bankSplitFinding(survey: TrimSurvey, limit: Limit): Finding {
  if (!survey.split) {
    const logged = survey.banks.map((bank) => bank.bank).join();
    return notAssessedFinding(
      ID,
      'Only one bank to judge',
      `Only bank ${logged} is logged with live trims. An inline engine has only one bank; on a V or flat engine log the trims of both.`,
    );
  }
  const judged = survey.split.filter((cell) => cell.judged);
  const worst = judged.sort((a, b) => Math.abs(b.medianPercent) - Math.abs(a.medianPercent))[0];
  if (!worst) {
    return notAssessedFinding(
      ID,
      'Difference between the banks could not be judged',
      'No operating region was held steady long enough with both banks read.',
    );
  }
  const value = Math.abs(worst.medianPercent);
  const verdict = judge(value, limit);
  const [low, high] =
    worst.medianPercent >= 0 ? [worst.lowPercent, worst.highPercent] : [-worst.highPercent, -worst.lowPercent];
  const widest = Math.max(...judged.map((cell) => (cell.highPercent - cell.lowPercent) / 2));
  return {
    id: ID,
    verdict,
    title:
      verdict === 'pass'
        ? 'Both banks are corrected alike'
        : `The banks differ by ${formatQuantity(value, '%')} at ${regionWords(worst.region, survey.axis)}`,
    measured: { value, unit: '%', low: Math.max(0, low), high },
    limit: limitShown(limit),
    reasoning: [
      `Total trim of bank 2 minus bank 1, at the same moments: worst of ${judged.length} cells is ${regionWords(worst.region, survey.axis)} with ${signedPercent(worst.medianPercent)} (${signedPercent(worst.lowPercent)} to ${signedPercent(worst.highPercent)}) over ${secondsWords(worst.dwellS)}; ${limitWords(limit)}.`,
    ],
    where: cellPlaces(worst),
    detectable: `A difference of ${formatQuantity(widest, '%')} or more in any judged cell.`,
    causes: verdict === 'pass' ? [] : causes(survey, worst),
    next:
      verdict === 'pass'
        ? []
        : [
            'Check the exhaust for leaks ahead of both lambda sensors, and sensor plugs for being swapped.',
            'Smoke test the intake runners of the bank that is corrected lean.',
            'Swap the lambda sensors from bank to bank and see whether the difference moves with them.',
            'Have the injectors of both banks flow tested.',
          ],
  };
}
