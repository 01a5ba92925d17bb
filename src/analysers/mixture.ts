// Question: is the full-load mixture where it was asked to be?
// Lean under boost is the dangerous side: the charge burns hotter and nearer to knock, and pistons and valves pay within seconds.
// Error = measured − asked lambda, with the asked one passed through the lag of gas and sensor, held 0.2 s.
import { limitOf } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { lambdaLag } from '../drive/mixture/lag.ts';
import { mixturePull } from '../drive/mixture/pull.ts';
import { mixtureTarget } from '../drive/mixture/target.ts';
import { pullSeries } from '../drive/pull-series.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { FROZEN_NEXT, livePulls } from './frozen-pulls.ts';
import { keptOpen } from './kept-open.ts';
import { AGREEMENT, agreementFinding, mixtureTable, richFinding, TARGET, targetFinding } from './mixture-asides.ts';
import { LEAN_ERROR, LEAN_LIMIT, leanErrorFinding, leanLimitFinding, leftOutWords } from './mixture-findings.ts';
import { notAssessedFinding } from './wording.ts';

const NO_SOURCE = 'common practice, no source';
const TITLE = 'Full-load mixture is not known';

const meta: AnalyserMeta = {
  id: 'mixture',
  title: 'Full-load mixture',
  question: 'Is the full-load mixture where it was asked to be?',
  needs: [['lambda'], ['engine_speed']],
  helps: [
    'lambda_target',
    'manifold_pressure',
    'injector_pulse_width',
    'injector_duty',
    'mass_air_flow',
    'fuel_rail_pressure',
    'battery_voltage',
  ],
  formula:
    'error (ratio) = measured lambda − target lambda delayed by transport and sensor lag; highest level held 0.2 s (running median over 0.4 s)',
  physics:
    'A boosted petrol engine is run rich at full load: the surplus fuel cools the charge and keeps it from knock. ' +
    'Where fuel falls short the mixture turns lean just where cylinder pressure and temperature are highest. ' +
    'The sensor sits down the exhaust and answers late, so what it shows belongs to an earlier moment of the pull.',
  limits: [
    {
      id: LEAN_ERROR,
      title: 'Measured minus target lambda, held 0.2 s',
      unit: 'ratio',
      warn: 0.03,
      fail: 0.06,
      source: NO_SOURCE,
    },
    {
      id: LEAN_LIMIT,
      title: 'Lambda above 40 kPa boost, held 0.2 s',
      unit: 'ratio',
      warn: 0.88,
      fail: 0.92,
      source: NO_SOURCE,
    },
    {
      id: TARGET,
      title: "Logged target minus the build sheet's full-load lambda",
      unit: 'ratio',
      warn: 0.03,
      fail: undefined,
      source: NO_SOURCE,
    },
    {
      id: AGREEMENT,
      title: 'Measured lambda against airflow and injected fuel',
      unit: '%',
      warn: 20,
      fail: undefined,
      source: NO_SOURCE,
    },
  ],
  cannotSee: [
    'One cylinder that runs lean while the others cover for it: the sensor sees their mean.',
    'An error of the sensor itself, or of its fuel scale where the mapping has the wrong stoichiometric ratio.',
    'The first moments of a pull, while the sensor still shows what was burnt before it.',
  ],
  cautions: ['Lift at once if the mixture turns lean under boost: damage takes seconds.'],
};

const open = (finding: Finding, needs: readonly string[], drive: Drive): Assessment => ({
  summary: `${finding.title}.`,
  findings: [finding],
  needs,
  tables: drive.pulls.length > 0 && drive.recording.channels.has('lambda') ? [mixtureTable(drive, [])] : [],
});

/** Readings that never move in a pull of some length are no measurement. */
function standsStill(drive: Drive): boolean {
  const channel = drive.recording.channels.get('lambda');
  if (!channel) return false;
  if (channel.values.length >= 10 && channel.max - channel.min < 0.004) return true;
  return drive.pulls.some((pull) => {
    const values = pullSeries(drive, pull, 'lambda')?.values;
    return (
      values !== undefined &&
      values.length >= 12 &&
      channel.step < 0.004 &&
      values.every((value) => value === values[0])
    );
  });
}

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const [errorLimit, leanLimit] = [limitOf(limits, LEAN_ERROR), limitOf(limits, LEAN_LIMIT)];
  const { channels } = drive.recording;
  const missing = ['lambda', 'engine_speed'].filter((id) => !channels.has(id as 'lambda'));
  if (missing.length > 0) {
    return open(
      notAssessedFinding(LEAN_ERROR, TITLE, `Not logged: ${missing.join(', ')}.`, [
        'Log lambda from a wide-band sensor at 10 Hz or more.',
      ]),
      missing,
      drive,
    );
  }
  const fit = drive.pulls.filter((pull) => pull.usable && pull.fitness.mixture.ok);
  if (fit.length === 0) {
    const why =
      drive.pulls.length === 0
        ? 'The log holds no full-load pull.'
        : `No pull can be judged: ${drive.pulls.map((p) => `pull ${p.id}: ${p.fitness.mixture.ok ? 'not usable' : p.fitness.mixture.why}`).join('; ')}.`;
    return open(
      notAssessedFinding(LEAN_ERROR, 'No pull shows the full-load mixture', why, [
        'Drive a full-load pull in one gear to near the redline.',
      ]),
      ['a full-load pull'],
      drive,
    );
  }
  if (standsStill(drive)) {
    return open(
      notAssessedFinding(
        LEAN_ERROR,
        'Measured lambda stands still',
        'The reading does not change by itself in a whole pull, which no working sensor does.',
        ['Check that the column is the measured mixture and not a target, then the sensor, its heater and its wiring.'],
      ),
      ['lambda'],
      drive,
    );
  }
  const { pulls: usable, said: frozen } = livePulls(drive, fit, ['lambda'], (pull) => pull);
  if (usable.length === 0) {
    return open(
      notAssessedFinding(LEAN_ERROR, 'Lambda froze in every pull', frozen.join(' '), [FROZEN_NEXT]),
      ['lambda'],
      drive,
    );
  }
  const lag = lambdaLag(drive);
  const target = mixtureTarget(drive, build, lag);
  const marks = {
    error: errorLimit.warn ?? errorLimit.fail ?? 0.03,
    lean: leanLimit.warn ?? leanLimit.fail ?? 0.88,
  };
  const pulls = usable.map((pull) => mixturePull(drive, pull, lag, target, marks)).filter((pull) => pull !== undefined);
  const input = { drive, build, lag, target, pulls };
  const told = (finding: Finding | undefined) =>
    finding && { ...finding, reasoning: [...finding.reasoning, ...frozen] };
  const error = told(leanErrorFinding(input, errorLimit));
  const limit = told(leanLimitFinding(input, leanLimit));
  const needs = [
    ...(target ? [] : ['lambda_target', 'mixture.fullLoadLambda']),
    ...(channels.has('manifold_pressure') ? [] : ['manifold_pressure']),
  ];
  const next = ['Log lambda_target, or put mixture.fullLoadLambda into the build sheet.'];
  const deciding =
    error ??
    limit ??
    notAssessedFinding(
      LEAN_ERROR,
      TITLE,
      target
        ? `Nothing in the pulls could be judged. ${leftOutWords(input)}`.trim()
        : 'No target is known (neither lambda_target nor mixture.fullLoadLambda), and boost above 40 kPa, where lambda can be judged by itself, was not seen.',
      next,
    );
  const noTarget =
    error || !limit
      ? undefined
      : notAssessedFinding(
          LEAN_ERROR,
          'What mixture was asked for is not known',
          target
            ? 'Nothing in the pulls could be held against the target.'
            : 'Neither lambda_target nor mixture.fullLoadLambda is there, so lambda is judged by itself alone.',
          next,
        );
  const findings = [
    error ?? noTarget ?? deciding,
    limit,
    error && richFinding(input),
    targetFinding(input, limitOf(limits, TARGET)),
    agreementFinding(input, limitOf(limits, AGREEMENT)),
  ].filter((finding) => finding !== undefined);
  const worstOf =
    [error, limit].find((f) => f?.verdict === 'fail') ?? [error, limit].find((f) => f?.verdict === 'warn') ?? deciding;
  return {
    summary: `${worstOf.title}, over ${pulls.length} pull${pulls.length === 1 ? '' : 's'} (lag of ${formatQuantity(lag.deadS + lag.tauS, 's')} ${lag.from === 'assumed' ? 'assumed' : 'found'} and removed).`,
    findings: keptOpen(deciding, findings),
    needs,
    tables: [mixtureTable(drive, pulls)],
  };
}

export const mixture: Analyser = { meta, assess };
