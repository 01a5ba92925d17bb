import type { Build } from '../../build-sheet/build.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { quantile } from '../../signal/quantile.ts';
import type { Drive, Pull } from '../drive.ts';
import { cutSeries } from '../pull-series.ts';
import { compareDuty, type DutyAgreement } from './agreement.ts';
import { type DutyModel, modelDuty } from './modelled.ts';
import { BELIEVABLE_DUTY_PERCENT, computedDuty, type Duty, loggedDuty } from './series.ts';

/** The duty that is judged, and what speaks for or against it. */
export interface DutyChoice {
  readonly duty: Duty;
  /** The view that was not judged, where both pulse width and duty are logged. */
  readonly other: Duty | undefined;
  readonly agreement: DutyAgreement | undefined;
  /** Why this view was judged and not the other. */
  readonly why: string;
  /** What the model stands on, where it is the model that is judged. */
  readonly modelNotes: readonly string[];
  /** Judged duty over modelled duty inside the pulls, where a model could be made beside a logged one. */
  readonly overModel: number | undefined;
}

export type DutyAnswer =
  | { readonly kind: 'chosen'; readonly choice: DutyChoice }
  | { readonly kind: 'unbelievable'; readonly duty: Duty; readonly topPercent: number }
  | { readonly kind: 'missing'; readonly missing: readonly string[] };

/** No engine at full load runs on so little; a number this small is in another unit. */
const LEAST_FULL_LOAD_PERCENT = 4;
/** How far the two views may lie apart and still be one, points of duty. */
export const SAME_WITHIN_PERCENT = 5;

/** The level that the highest tenth of a duty reaches inside the given pulls, %. */
function topInPulls(duty: Duty, pulls: readonly Pull[]): number | undefined {
  const values: number[] = [];
  for (const { startS, endS } of pulls) {
    const inPull = cutSeries(duty.series, startS, endS).values;
    for (let i = 0, n = inPull.length; i < n; i++) values.push(inPull[i]);
  }
  return values.length > 0 ? quantile(values, 0.9) : undefined;
}

function chooseBetween(
  drive: Drive,
  computed: Duty,
  logged: Duty,
): Pick<DutyChoice, 'duty' | 'other' | 'agreement' | 'why'> {
  const agreement = compareDuty(drive, computed, logged, SAME_WITHIN_PERCENT);
  const judged = (duty: Duty, why: string) => ({
    duty,
    other: duty === computed ? logged : computed,
    agreement,
    why,
  });
  const computedTop = topInPulls(computed, drive.pulls) ?? 0;
  const loggedTop = topInPulls(logged, drive.pulls) ?? 0;
  if (!agreement || agreement.reading === 'same') {
    return logged.series.rateHz > 2 * computed.series.rateHz
      ? judged(logged, 'The logged duty is judged: it is updated more often than the pulse width.')
      : judged(computed, 'The duty computed from pulse width is judged.');
  }
  const isBelievable = (top: number) => top >= LEAST_FULL_LOAD_PERCENT && top <= BELIEVABLE_DUTY_PERCENT;
  if (isBelievable(computedTop) !== isBelievable(loggedTop)) {
    return isBelievable(computedTop)
      ? judged(computed, 'The duty computed from pulse width is judged: only it is believable.')
      : judged(logged, 'The logged duty is judged: only it is believable.');
  }
  return computedTop >= loggedTop
    ? judged(computed, 'The duty computed from pulse width is judged: it is the worse of the two.')
    : judged(logged, 'The logged duty is judged: it is the worse of the two.');
}

function ratioToModel(drive: Drive, duty: Duty, model: DutyModel): number | undefined {
  return model.ok ? compareDuty(drive, model.duty, duty, SAME_WITHIN_PERCENT)?.ratio : undefined;
}

function choose(drive: Drive, build: Build): DutyAnswer {
  const computed = computedDuty(drive, build);
  const logged = loggedDuty(drive);
  const model = modelDuty(drive, build);
  if (!computed && !logged) {
    if (!model.ok) return { kind: 'missing', missing: model.missing };
    const why = 'Neither pulse width nor duty is logged: the duty is modelled from airflow.';
    const nothing = { other: undefined, agreement: undefined, overModel: undefined };
    return { kind: 'chosen', choice: { duty: model.duty, why, modelNotes: model.notes, ...nothing } };
  }
  const chosen =
    computed && logged
      ? chooseBetween(drive, computed, logged)
      : {
          duty: (computed ?? logged) as Duty,
          other: undefined,
          agreement: undefined,
          why: computed
            ? 'Duty is computed from pulse width and engine speed.'
            : 'Duty is as the controller logged it: there is no pulse width to check it by.',
        };
  const top = topInPulls(chosen.duty, drive.pulls);
  if (top !== undefined && top < LEAST_FULL_LOAD_PERCENT) {
    return { kind: 'unbelievable', duty: chosen.duty, topPercent: top };
  }
  return {
    kind: 'chosen',
    choice: { ...chosen, modelNotes: [], overModel: ratioToModel(drive, chosen.duty, model) },
  };
}

const perDrive = oncePer((drive: Drive) => oncePer((build: Build) => choose(drive, build)));

/** Injector duty of a log by the best view there is; worked out once for a drive and its build sheet. */
export function injectorDutyOf(drive: Drive, build: Build): DutyAnswer {
  return perDrive(drive)(build);
}
