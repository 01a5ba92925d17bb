// Question: is settled boost what the hardware should give?
// Error = (settled level − target) / target, gauge pressures; its magnitude is judged, since too little and too much are both off.
// Settled level: robust line over engine speed after the first transient has died, at settling.
import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { errorToLoggedTarget, errorToTarget, type TargetError } from '../drive/boost/target-error.ts';
import type { Drive } from '../drive/drive.ts';
import { formatAgainst, formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, Assessment } from './analyser.ts';
import {
  agreement,
  boostEvidence,
  decidingPull,
  isStillSpooling,
  nothingJudged,
  notJudged,
  type PullOutcome,
  rateWords,
  toppedOutWords,
  unsettledWords,
} from './boost-evidence.ts';
import { levelOf, noBoostFinding, ratioSentence, springFinding, thinAirFinding } from './boost-target-asides.ts';
import { absoluteTargetCause, targetCauses, targetNext, targetTable } from './boost-target-words.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { limitShown, limitWords, notAssessedFinding, pullPlace, rpmWords } from './wording.ts';

const ID = 'boost-target.error';
const LOGGED = 'boost-target.tracking';
const TITLE = 'Settled boost against its target';
const kpa = (value: number) => formatQuantity(value, 'kPa');
const percent = (value: number) => formatQuantity(value, '%');

const meta: AnalyserMeta = {
  id: 'boost-target',
  title: 'Boost target',
  question: 'Is settled boost what the hardware should give?',
  needs: [
    ['manifold_pressure'],
    ['engine_speed'],
    ['accelerator_position', 'throttle_position', 'absolute_load', 'calculated_load'],
  ],
  helps: ['manifold_pressure_target', 'barometric_pressure', 'wastegate_duty'],
  formula: 'error (%) = 100 × (settled gauge boost − target) / target; the magnitude is judged',
  physics:
    'Boost settles where the wastegate passes what the turbine does not need. Less than the target is a leak, a gate that opens early or a turbine at its end; ' +
    'more is a gate held shut for too long or a control line that does not tell it. ' +
    'The same gauge boost over thinner outside air is a higher pressure ratio, and more work for the compressor.',
  limits: [
    {
      id: ID,
      title: 'Settled minus target, magnitude, share of target',
      unit: '%',
      warn: 10,
      fail: 20,
      source: 'common practice, no source',
    },
  ],
  cannotSee: [
    'A target that is itself wrong for the hardware.',
    'Where the boost was lost: pressure before the cooler and gate position are seldom logged.',
  ],
  cautions: ['Boost above its target is boost that nobody fuelled and timed the engine for: do not repeat the pull.'],
};

type Measure = (boost: BoostPull) => TargetError | undefined;

function outcomeOf(boost: BoostPull, build: Build, limit: Limit, measure: Measure, name: string): PullOutcome {
  const { pull, settled, unsettled } = boost;
  if (!settled || unsettled) return notJudged(boost, `not judged: ${unsettledWords(boost)}.`);
  if (isStillSpooling(boost, build)) {
    return notJudged(boost, `not judged: it ends at ${rpmWords(pull.rpm[1])} with boost still on its way up.`);
  }
  const error = measure(boost);
  if (!error) return notJudged(boost, `not judged: ${name} is not known there, or asks for no boost.`);
  const size = Math.abs(error.percent);
  const verdict = judge(size, limit);
  const topped = toppedOutWords(boost);
  if (topped && (verdict === 'pass' || error.percent < 0)) return notJudged(boost, `not judged: ${topped}`);
  if (error.percent < 0 && verdict !== 'pass' && boost.endBoostKpa >= error.targetKpa) {
    return notJudged(
      boost,
      `not judged: boost climbs through ${name} of ${kpa(error.targetKpa)} to ${kpa(boost.endBoostKpa)} at the end of the pull, so there is no level that could lie below it (see boost-creep).`,
    );
  }
  const ends = [Math.abs(error.low), Math.abs(error.high)];
  const isZeroInside = error.low <= 0 && error.high >= 0;
  const side = error.percent >= 0 ? 'above' : 'below';
  return {
    boost,
    verdict,
    value: size,
    low: isZeroInside ? 0 : Math.min(...ends),
    high: Math.max(...ends),
    said: [
      `Pull ${pull.id}: boost settles on ${kpa(error.settledKpa)} (${rpmWords(settled.settleRpm)} on), ${name} is ${kpa(error.targetKpa)}: ${percent(size)} ${side} it (${percent(error.low)} to ${percent(error.high)}).`,
    ],
    places:
      verdict === 'pass' ? [] : [pullPlace(pull, settled.settleS, pull.endS, [settled.settleRpm, settled.endRpm])],
  };
}

interface Question {
  readonly id: string;
  /** As it stands in a sentence. */
  readonly name: string;
  readonly measure: Measure;
  readonly isLogged: boolean;
}

function errorFinding(question: Question, outcomes: readonly PullOutcome[], drive: Drive, limit: Limit): Finding {
  const deciding = decidingPull(outcomes);
  const reasoning = [...outcomes.flatMap((o) => o.said), agreement(outcomes, '%')].filter((s) => s !== undefined);
  if (deciding.value === undefined) {
    return {
      ...notAssessedFinding(question.id, TITLE, '', ['Log a full-load pull in a higher gear to near the redline.']),
      reasoning,
    };
  }
  const error = question.measure(deciding.boost) as TargetError;
  const above = error.percent >= 0;
  const bad = deciding.verdict !== 'pass';
  const absolute = bad ? absoluteTargetCause(error, drive.recording.barometric.kpa, question.isLogged) : undefined;
  return {
    id: question.id,
    verdict: deciding.verdict,
    title: bad
      ? `Settled boost is ${percent(deciding.value)} ${above ? 'above' : 'below'} ${question.name}`
      : `Settled boost is within ${percent(deciding.value)} of ${question.name}`,
    measured: { value: deciding.value, unit: '%', low: deciding.low, high: deciding.high },
    limit: limitShown(limit),
    reasoning: [
      ...reasoning,
      `Worst pull ${deciding.boost.pull.id}: ${formatAgainst(deciding.value, '%', limit)} ${above ? 'above' : 'below'}, ${limitWords(limit)}; above and below count alike.`,
      ratioSentence(drive, error.settledKpa),
    ],
    where: outcomes.flatMap((o) => o.places),
    ...(bad
      ? {}
      : {
          detectable: `Settled boost off by ${percent(limit.warn ?? limit.fail ?? 0)} of the target either way would have been told (${rateWords(deciding.boost)}).`,
        }),
    causes: bad ? [...(absolute ? [absolute] : []), ...targetCauses(above, outcomes)] : [],
    next: bad
      ? [
          ...(absolute
            ? ['Check first whether the target is gauge or absolute: a pressure is gauge unless written "… abs".']
            : []),
          ...targetNext(above),
        ]
      : [],
  };
}

function noTargetFinding(pulls: readonly BoostPull[]): Finding {
  return {
    ...notAssessedFinding(
      ID,
      'No target to hold boost against',
      `Settled boost is ${kpa(levelOf(pulls))}, but neither the build sheet (boost.target) nor the log (manifold_pressure_target) says what it should be.`,
      ['Write the boost that this step should give into the build sheet (boost.target).'],
    ),
    measured: { value: levelOf(pulls), unit: 'kPa' },
  };
}

function assess(drive: Drive, { build, limits }: Parameters<Analyser['assess']>[1]): Assessment {
  const limit = limitOf(limits, ID);
  const evidence = boostEvidence(drive, build);
  if (!evidence.ok) {
    const none =
      evidence.noBoostKpa === undefined ? undefined : noBoostFinding(drive, build, evidence.noBoostKpa, limit);
    return none
      ? { summary: `${none.title}.`, findings: [none], needs: [], tables: [] }
      : nothingJudged(ID, TITLE, evidence.why, evidence.needs);
  }
  const settled = evidence.pulls.filter((p) => p.settled && !p.unsettled);
  const { targetKpa, wastegateCrackingAssumed } = build.boost;
  const questions: Question[] = [];
  if (targetKpa !== undefined) {
    questions.push({
      id: ID,
      name: "the build sheet's target",
      measure: (boost) => errorToTarget(boost, targetKpa),
      isLogged: false,
    });
  }
  if (drive.recording.channels.has('manifold_pressure_target')) {
    const id = questions.length === 0 ? ID : LOGGED;
    questions.push({
      id,
      name: 'the logged target',
      measure: (boost) => errorToLoggedTarget(drive, boost),
      isLogged: true,
    });
  }
  const outcomes = questions.map(({ measure, name }) => [
    ...evidence.pulls.map((boost) => outcomeOf(boost, build, limit, measure, name)),
    ...evidence.frozen,
  ]);
  const errors = questions.map((question, i) => errorFinding(question, outcomes[i], drive, limit));
  const spring = settled.length > 0 ? springFinding(settled, build) : undefined;
  const answersBySpring = spring !== undefined && !wastegateCrackingAssumed;
  const deciding = errors[0] ?? (answersBySpring ? spring : settled.length > 0 ? noTargetFinding(settled) : undefined);
  if (!deciding) {
    return nothingJudged(ID, TITLE, 'Boost settled in no pull, and no target is known.', ['boost.target']);
  }
  const asides = [spring, settled.length > 0 ? thinAirFinding(drive, settled) : undefined];
  const findings = [deciding, ...errors.slice(1), ...asides].filter((f) => f !== undefined);
  return {
    summary: `${deciding.title}.`,
    findings: keptOpen(deciding, [...new Set(findings)]),
    needs: questions.length === 0 ? ['boost.target', 'manifold_pressure_target'] : [],
    tables: outcomes.length > 0 ? [targetTable(outcomes[0], questions[0].measure)] : [],
  };
}

export const boostTarget: Analyser = { meta, assess };
