/*
 * Does boost keep climbing with rpm after it settled, or never settle?
 *
 * Exhaust flow rises with engine speed; a gate that cannot pass the surplus lets the turbine, and boost, climb. The rise
 * is that of the robust (Theil–Sen) line over engine speed from settling to the end of the pull, and counts only when
 * the slope's 95 % interval excludes zero. A boost that never settles is a fail. Limits: common practice, no source.
 */
import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { formatAgainst, formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta } from './analyser.ts';
import { ceilingFinding } from './boost-ceiling-finding.ts';
import { huntingFinding, springFinding, taperFinding } from './boost-creep-level.ts';
import { creepCauses, creepNext, creepTable } from './boost-creep-words.ts';
import {
  agreement,
  askedForKpa,
  boostEvidence,
  decidingPull,
  glitchWords,
  isStillSpooling,
  NEAR_REDLINE,
  nothingJudged,
  notJudged,
  type PullOutcome,
  rateWords,
  toppedOutWords,
} from './boost-evidence.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { limitShown, limitWords, pullPlace, rpmWords, withInterval } from './wording.ts';

const ID = 'boost-creep.rise';
const TITLE = 'Rise of the settled boost to the end of the pull';
const meta: AnalyserMeta = {
  id: 'boost-creep',
  title: 'Boost creep',
  question: 'Does boost keep climbing with rpm after it settled, or never settle?',
  needs: [
    ['manifold_pressure'],
    ['engine_speed'],
    ['accelerator_position', 'throttle_position', 'absolute_load', 'calculated_load'],
  ],
  helps: ['barometric_pressure', 'manifold_pressure_target', 'wastegate_duty'],
  formula: 'rise (kPa) = slope of the Theil–Sen line of gauge boost over rpm × (rpm at the end − rpm at settling)',
  physics:
    'Exhaust flow grows with engine speed. Once the wastegate is fully open, what it cannot pass drives the turbine harder, so boost climbs towards the redline. With no control pressure at the actuator, or a gate stuck shut, nothing limits it at all.',
  limits: [
    {
      id: ID,
      title: 'Settled level to the end of the pull',
      unit: 'kPa',
      warn: 7,
      fail: 20,
      source: 'common practice, no source',
    },
  ],
  cannotSee: [
    'Engine speeds above the end of the pulls: creep is worst at the top.',
    'Other gears and colder air: longer load and denser air make creep worse.',
    'Whether the gate was open: only a logged wastegate duty or a position sensor would tell.',
  ],
  cautions: [
    'Boost that climbs without settling can wreck an engine in one pull: lift at once, and do not repeat the pull before the cause is found.',
  ],
};

function neverSettled(boost: BoostPull, build: Build): PullOutcome {
  const { pull, endBoostKpa, lateClimbKpa, swing } = boost;
  const places = [pullPlace(pull)];
  if (boost.unsettled === 'swinging' && swing) {
    const said = `Pull ${pull.id}: boost never settles. It swings by ${formatQuantity(swing.lastSwingKpa, 'kPa')} from top to bottom, period ${formatQuantity(swing.periodS, 's')}, and does not die away before the pull ends; never settling is a fail whatever the size.`;
    const value = swing.lastSwingKpa;
    return { boost, verdict: 'fail', value, low: value, high: value, said: [said], places };
  }
  const target = build.boost.targetKpa;
  const against = target === undefined ? '' : ` The build sheet's target is ${formatQuantity(target, 'kPa')}.`;
  const said = `Pull ${pull.id}: boost never settles. It climbs to the end, ${formatQuantity(lateClimbKpa, 'kPa')} over the upper half of the pull's speed range, to ${formatQuantity(endBoostKpa, 'kPa')} at ${rpmWords(pull.rpm[1])}; never settling is a fail whatever the size.${against}`;
  return { boost, verdict: 'fail', value: lateClimbKpa, low: lateClimbKpa, high: lateClimbKpa, said: [said], places };
}

function outcomeOf(boost: BoostPull, build: Build, limit: Limit): PullOutcome {
  const { settled, unsettled, pull, trace } = boost;
  if (unsettled === 'swinging') return neverSettled(boost, build);
  if (unsettled === 'climbing' && !isStillSpooling(boost, build)) return neverSettled(boost, build);
  const reached = `it ends at ${rpmWords(pull.rpm[1])} with ${formatQuantity(boost.endBoostKpa, 'kPa')}`;
  if (unsettled === 'climbing')
    return notJudged(
      boost,
      `${reached}, still spooling: a pull to at least ${rpmWords(NEAR_REDLINE * build.engine.redlineRpm)} is needed.`,
    );
  if (!settled || unsettled) return notJudged(boost, `${reached}, before boost settled.`);
  const targetRise = boost.target?.riseKpa ?? 0;
  const off = askedForKpa(targetRise, settled.endKpa, build);
  const [value, low, high] = [settled.riseKpa - off, settled.riseLow - off, settled.riseHigh - off];
  const proven = low > 0;
  const verdict = proven ? judge(value, limit) : 'pass';
  if (isStillSpooling(boost, build)) {
    return notJudged(
      boost,
      `${reached}, still spooling: a pull to at least ${rpmWords(NEAR_REDLINE * build.engine.redlineRpm)} is needed.`,
    );
  }
  const topped = toppedOutWords(boost);
  if (verdict === 'pass' && topped) return notJudged(boost, topped);
  if (verdict === 'pass' && limit.fail !== undefined && high >= limit.fail) {
    return notJudged(
      boost,
      `the settled part is too short or too noisy: the line rises by ${withInterval(value, low, high, 'kPa')}, so a rise at the limit is not excluded.`,
    );
  }
  const per1000 = 1000 * settled.last.slopeKpaPerRpm;
  const said = [
    `Pull ${pull.id}: settled at ${rpmWords(settled.settleRpm)} on ${formatQuantity(settled.levelKpa, 'kPa')}, ends on ${formatQuantity(settled.endKpa, 'kPa')} at ${rpmWords(settled.endRpm)}${settled.bent ? ' after a bend in between' : ''}: ${withInterval(settled.riseKpa, settled.riseLow, settled.riseHigh, 'kPa')}, ${formatQuantity(per1000, 'kPa')} per 1,000 rpm; the interval ${settled.riseLow > 0 || settled.riseHigh < 0 ? 'excludes' : 'includes'} zero.`,
  ];
  if (off > 0)
    said.push(
      `Pull ${pull.id}: the logged target rose by ${formatQuantity(off, 'kPa')} over the same range; that part was asked for, hence ${formatQuantity(value, 'kPa')} are left.`,
    );
  else if (targetRise >= 1)
    said.push(
      `Pull ${pull.id}: the logged target rose by ${formatQuantity(targetRise, 'kPa')} over the same range, past the build sheet's ${formatQuantity(build.boost.targetKpa ?? 0, 'kPa')}; that does not excuse the rise.`,
    );
  if (pull.rpm[1] < NEAR_REDLINE * build.engine.redlineRpm)
    said.push(
      `Pull ${pull.id}: ends at ${rpmWords(pull.rpm[1])}, short of the redline (${rpmWords(build.engine.redlineRpm)}); creep above that was not driven.`,
    );
  const places =
    verdict === 'pass'
      ? []
      : [pullPlace(pull, settled.settleS, trace.time[trace.time.length - 1], [settled.settleRpm, settled.endRpm])];
  return { boost, verdict, value, low, high, said, places };
}

function detectable(outcomes: readonly PullOutcome[]): string {
  const judged = outcomes.filter((o) => o.value !== undefined && !o.boost.unsettled);
  if (judged.length === 0) return 'Boost that never settles would be seen at any rate at which pulls can be judged.';
  const widest = judged.reduce((a, b) => (b.high - b.low > a.high - a.low ? b : a));
  const half = Math.max(0.5, (widest.high - widest.low) / 2);
  return `A steady rise of ${formatQuantity(half, 'kPa')} from settling to the end of the pull would have been seen in every judged pull (${rateWords(widest.boost)}).`;
}

function riseFinding(outcomes: readonly PullOutcome[], build: Build, limit: Limit): Finding {
  const worst = decidingPull(outcomes);
  const reasoning = [
    ...outcomes.flatMap((o) => o.said),
    agreement(outcomes, 'kPa'),
    ...outcomes.map((o) => glitchWords(o.boost)),
  ].filter((sentence) => sentence !== undefined);
  if (worst.value === undefined) {
    const next = ['Log a full-load pull in a higher gear, from low engine speed to near the redline.'];
    return { id: ID, verdict: 'not-assessed', title: TITLE, reasoning, where: [], causes: [], next };
  }
  const bad = worst.verdict !== 'pass';
  const never = worst.boost.unsettled !== undefined;
  const hidden = !bad && outcomes.some((o) => o.boost.toppedOutKpa !== undefined);
  const passTitle =
    worst.high < 0 ? 'Settled boost does not climb; it falls' : 'Settled boost does not climb with engine speed';
  return {
    id: ID,
    verdict: hidden ? 'not-assessed' : worst.verdict,
    title: never ? 'Boost never settles' : bad ? 'Settled boost climbs with engine speed' : hidden ? TITLE : passTitle,
    measured: { value: worst.value, unit: 'kPa', low: worst.low, high: worst.high },
    limit: limitShown(limit),
    reasoning: [
      ...reasoning,
      `Worst pull ${worst.boost.pull.id}: ${formatAgainst(worst.value, 'kPa', limit)} against ${limitWords(limit)}.`,
    ],
    where: outcomes.flatMap((o) => o.places),
    detectable: detectable(outcomes),
    causes: bad ? creepCauses(outcomes, worst.boost.unsettled, build) : [],
    next: bad ? creepNext(never) : [],
  };
}

export const boostCreep: Analyser = {
  meta,
  assess(drive, { build, limits }) {
    const limit = limitOf(limits, ID);
    const evidence = boostEvidence(drive, build);
    const ceiling = ceilingFinding('boost-creep.ceiling', 'creep', drive, build, creepNext(true).slice(0, 2));
    if (!evidence.ok) {
      const spring = evidence.noBoostKpa === undefined ? undefined : springFinding([], build, evidence.noBoostKpa);
      const nothing = nothingJudged(ID, TITLE, evidence.why, evidence.needs, ceiling);
      return spring ? { ...nothing, summary: `${spring.title}.`, findings: [spring, ...nothing.findings] } : nothing;
    }
    const outcomes = [...evidence.pulls.map((boost) => outcomeOf(boost, build, limit)), ...evidence.frozen];
    const finding = riseFinding(outcomes, build, limit);
    const settled = evidence.pulls.filter((p) => p.settled && !p.unsettled && !isStillSpooling(p, build));
    const others = [
      ceiling,
      huntingFinding(evidence.pulls),
      springFinding(settled, build, undefined),
      taperFinding(settled),
    ].filter((other) => other !== undefined);
    const rise = formatQuantity(finding.measured?.value ?? 0, 'kPa');
    const summaries = {
      fail:
        finding.title === 'Boost never settles'
          ? 'Boost never settles.'
          : `Settled boost climbs by ${rise} to the end of the pull.`,
      warn: `Settled boost climbs by ${rise} to the end of the pull.`,
      pass: 'Boost settles and does not climb with engine speed.',
      'not-assessed': 'Not assessed: no pull shows boost settled for long enough.',
    };
    const worse = others.find((other) => other.verdict === 'fail') ?? others.find((other) => other.verdict === 'warn');
    const summary =
      worse && (finding.verdict === 'pass' || finding.verdict === 'not-assessed')
        ? `${worse.title}.`
        : summaries[finding.verdict];
    const needs = finding.verdict === 'not-assessed' ? ['manifold_pressure'] : [];
    return {
      summary,
      findings: keptOpen(finding, [
        ...others.filter((o) => o.verdict === 'fail'),
        finding,
        ...others.filter((o) => o.verdict !== 'fail'),
      ]),
      needs,
      tables: [creepTable(outcomes)],
    };
  },
};
