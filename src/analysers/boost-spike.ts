/*
 * Are there brief excursions in a settled pull?
 *
 * A spike is a departure above the local level shorter than 0.5 s, anywhere after the first settling and not at the
 * lift. The local level is the settled line plus a running median over 1.2 s of what departs from it.
 * Limits: common practice, no source.
 */
import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import { SPIKE_S } from '../drive/boost/excursions.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { formatAgainst, formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta } from './analyser.ts';
import { ceilingFinding } from './boost-ceiling-finding.ts';
import {
  agreement,
  boostEvidence,
  decidingPull,
  glitchWords,
  isStillSpooling,
  nothingJudged,
  notJudged,
  type PullOutcome,
  rateWords,
  toppedOutWords,
  unsettledWords,
} from './boost-evidence.ts';
import { SPIKE_NEXT, smallestSeen, spikeCauses, spikeTable, spikeWords } from './boost-spike-words.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { limitShown, limitWords, pullPlace, rpmWords } from './wording.ts';

const ID = 'boost-spike.height';
const TITLE = 'Brief excursions above the local level';
/** Slower than this an excursion of 0.3 s can pass between two samples, Hz. */
const SLOWEST_HZ = 4.75;

const meta: AnalyserMeta = {
  id: 'boost-spike',
  title: 'Boost spikes',
  question: 'Are there brief excursions in a settled pull?',
  needs: [
    ['manifold_pressure'],
    ['engine_speed'],
    ['accelerator_position', 'throttle_position', 'absolute_load', 'calculated_load'],
  ],
  helps: ['barometric_pressure', 'wastegate_duty', 'throttle_position'],
  formula: `height (kPa) = top of an excursion shorter than ${SPIKE_S} s − local level (settled line + running median over 1.2 s)`,
  physics:
    'A settled boost is a balance between turbine and wastegate. What leaves it and comes back within half a second is the gate, its control line or the controller moving by itself, or the sensor. Cylinder pressure follows at once, so a brief excursion knocks as hard as a lasting one.',
  limits: [
    {
      id: ID,
      title: `Height above the local level, shorter than ${SPIKE_S} s`,
      unit: 'kPa',
      warn: 7,
      fail: 20,
      source: 'common practice, no source',
    },
  ],
  cannotSee: [
    'An excursion shorter than the time between two samples.',
    'Excursions before boost first settled (they belong to boost-overshoot) and at the lift or gear change.',
    'Whether one lone sample was pressure or an electrical pick-up.',
  ],
  cautions: [
    'A spike at full load can knock before timing control answers it: find its cause before the next step of boost.',
  ],
};

function outcomeOf(boost: BoostPull, build: Build, limit: Limit): PullOutcome {
  const { excursions, trace, pull, unsettled } = boost;
  if (unsettled || !excursions) {
    return notJudged(boost, `${unsettledWords(boost)}, so there is no level to spike from.`);
  }
  const bySize = [...excursions.spikes].sort((a, b) => b.heightKpa - a.heightKpa);
  const top = bySize[0];
  const value = top?.heightKpa ?? 0;
  const verdict = judge(value, limit);
  if (verdict === 'pass') {
    if (isStillSpooling(boost, build)) {
      return notJudged(boost, `it ends at ${rpmWords(pull.rpm[1])}, still spooling, before boost came to its level.`);
    }
    const topped = toppedOutWords(boost);
    if (topped) return notJudged(boost, topped);
    if (trace.rateHz < SLOWEST_HZ) {
      return notJudged(
        boost,
        `${formatQuantity(trace.rateHz, 'Hz')} samples are too slow: an excursion of 0.3 s can pass between two of them.`,
      );
    }
    if (limit.fail !== undefined && smallestSeen(boost) >= limit.fail) {
      return notJudged(
        boost,
        `the trace is too noisy (${formatQuantity(excursions.spreadKpa, 'kPa')}): an excursion at the limit would drown in it.`,
      );
    }
  }
  const told = bySize.filter((spike) => spike.heightKpa >= (limit.warn ?? limit.fail ?? 0));
  const said = told.slice(0, 4).map((spike) => spikeWords(boost, spike));
  if (told.length > 4) said.push(`Pull ${pull.id}: ${told.length - 4} more of the same kind.`);
  if (said.length === 0) {
    said.push(
      top
        ? `Pull ${pull.id}: the largest brief excursion is ${formatQuantity(value, 'kPa')}.`
        : `Pull ${pull.id}: nothing brief stands out by more than ${formatQuantity(smallestSeen(boost), 'kPa')} after settling.`,
    );
  }
  for (const aside of excursions.setAside) {
    if (aside.heightKpa < 5) continue;
    const why =
      aside.why === 'lift'
        ? 'it begins at the lift, where pressure surges against a closing throttle'
        : 'it is one lone sample, and at this rate a real excursion shows in several';
    said.push(
      `Pull ${pull.id}: ${formatQuantity(aside.heightKpa, 'kPa')} at ${formatQuantity(aside.startS, 's')} is not judged: ${why}.`,
    );
  }
  return {
    boost,
    verdict,
    value,
    low: top?.lowKpa ?? 0,
    high: top?.highKpa ?? smallestSeen(boost),
    said,
    places: told.map((spike) => pullPlace(pull, spike.startS, spike.endS, [spike.rpm, spike.rpm])),
  };
}

/** Excursions of half a second and more: no spikes, no creep, yet not to be passed over. */
function surgeFinding(pulls: readonly BoostPull[], limit: Limit): Finding | undefined {
  const surges = pulls.flatMap((boost) => (boost.excursions?.surges ?? []).map((surge) => ({ boost, surge })));
  const told = surges.filter(({ surge }) => surge.heightKpa >= (limit.warn ?? limit.fail ?? Number.POSITIVE_INFINITY));
  if (told.length === 0) return undefined;
  const worst = told.reduce((a, b) => (b.surge.heightKpa > a.surge.heightKpa ? b : a));
  return {
    id: 'boost-spike.surge',
    verdict: 'warn',
    title: `Boost leaves its level for ${SPIKE_S} s or more and comes back`,
    measured: { value: worst.surge.heightKpa, unit: 'kPa', low: worst.surge.lowKpa, high: worst.surge.highKpa },
    limit: limitShown(limit),
    reasoning: [
      ...told.slice(0, 4).map(({ boost, surge }) => spikeWords(boost, surge)),
      `That is longer than a spike (${SPIKE_S} s) and no steady rise, hence a warning: ${limitWords(limit)} for a spike of this height.`,
    ],
    where: told.map(({ boost, surge }) => pullPlace(boost.pull, surge.startS, surge.endS, [surge.rpm, surge.rpm])),
    causes: [],
    next: SPIKE_NEXT,
  };
}

function heightFinding(outcomes: readonly PullOutcome[], limit: Limit): Finding {
  const worst = decidingPull(outcomes);
  const reasoning = [
    ...outcomes.flatMap((o) => o.said),
    agreement(outcomes, 'kPa'),
    ...outcomes.map((o) => glitchWords(o.boost)),
  ].filter((sentence) => sentence !== undefined);
  if (worst.value === undefined) {
    return { id: ID, verdict: 'not-assessed', title: TITLE, reasoning, where: [], causes: [], next: [] };
  }
  const bad = worst.verdict !== 'pass';
  const hidden = !bad && outcomes.some((o) => o.boost.toppedOutKpa !== undefined);
  const judged = outcomes.filter((o) => o.value !== undefined).map((o) => o.boost);
  const coarse = judged.reduce((a, b) => (smallestSeen(b) > smallestSeen(a) ? b : a));
  return {
    id: ID,
    verdict: hidden ? 'not-assessed' : worst.verdict,
    title: bad ? 'Boost spikes in a settled pull' : hidden ? TITLE : 'No brief excursions worth a warning',
    measured: { value: worst.value, unit: 'kPa', low: Math.max(0, worst.low), high: worst.high },
    limit: limitShown(limit),
    reasoning: [
      ...reasoning,
      `Worst pull ${worst.boost.pull.id}: ${formatAgainst(worst.value, 'kPa', limit)} against ${limitWords(limit)}.`,
    ],
    where: outcomes.flatMap((o) => o.places),
    detectable: `An excursion of ${formatQuantity(smallestSeen(coarse), 'kPa')} lasting ${formatQuantity(2 / coarse.trace.rateHz, 's')} would have been seen in every judged pull (${rateWords(coarse)}).`,
    causes: bad ? spikeCauses(outcomes) : [],
    next: bad ? SPIKE_NEXT : [],
  };
}

export const boostSpike: Analyser = {
  meta,
  assess(drive, { build, limits }) {
    const limit = limitOf(limits, ID);
    const evidence = boostEvidence(drive, build);
    const ceiling = ceilingFinding('boost-spike.ceiling', 'spike', drive, build, SPIKE_NEXT.slice(0, 2));
    if (!evidence.ok) return nothingJudged(ID, TITLE, evidence.why, evidence.needs, ceiling);
    const outcomes = [...evidence.pulls.map((boost) => outcomeOf(boost, build, limit)), ...evidence.frozen];
    const finding = heightFinding(outcomes, limit);
    const others = [ceiling, surgeFinding(evidence.pulls, limit)].filter((other) => other !== undefined);
    const height = formatQuantity(finding.measured?.value ?? 0, 'kPa');
    const summaries = {
      fail: `A brief excursion of ${height} in a settled pull.`,
      warn: `A brief excursion of ${height} in a settled pull.`,
      pass: 'No brief excursion worth a warning in the settled pulls.',
      'not-assessed': 'Not assessed: no pull could have shown a brief excursion.',
    };
    const summary =
      finding.verdict === 'fail' || others.length === 0 ? summaries[finding.verdict] : `${others[0].title}.`;
    const needs = finding.verdict === 'not-assessed' ? ['manifold_pressure'] : [];
    return { summary, findings: keptOpen(finding, [...others, finding]), needs, tables: [spikeTable(outcomes)] };
  },
};
