/*
 * Does boost shoot past where it settles?
 *
 * Air mass and cylinder pressure follow manifold pressure at once, so an overshoot loads the engine before any
 * controller can answer it. excess = (peak of the first rise − settled line at the peak's engine speed) / that
 * settled gauge boost. The settled line is a Theil–Sen line over engine speed, so that creep and taper are not taken
 * for overshoot. Limits: common practice, no source.
 */
import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta } from './analyser.ts';
import { ceilingFinding } from './boost-ceiling-finding.ts';
import {
  agreement,
  askedForKpa,
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
import { OVERSHOOT_NEXT, overshootCauses, overshootTable } from './boost-overshoot-words.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { limitShown, limitWords, pullPlace, rpmWords, withInterval } from './wording.ts';

const ID = 'boost-overshoot.excess';
const TITLE = 'Boost peak over the settled level';
/** Slower than this a whole overshoot can pass between two samples, Hz. */
const SLOWEST_HZ = 4;
/** An overshoot smaller than this is no fault however small the settled boost is, kPa. */
const LEAST_KPA = 3;

const meta: AnalyserMeta = {
  id: 'boost-overshoot',
  title: 'Boost overshoot',
  question: 'Does boost shoot past where it settles?',
  needs: [
    ['manifold_pressure'],
    ['engine_speed'],
    ['accelerator_position', 'throttle_position', 'absolute_load', 'calculated_load'],
  ],
  helps: ['barometric_pressure', 'manifold_pressure_target', 'wastegate_duty'],
  formula:
    'excess (%) = 100 × (peak of the first rise − settled line at the peak) / settled line at the peak; pressures in kPa gauge',
  physics:
    "The turbine keeps its speed when the wastegate opens, so boost runs past the level at which the gate balances it. How far depends on the turbine's inertia, on how late the gate gets its signal, and on how fast it opens. A second-order response with damping ratio ζ overshoots by exp(−πζ/√(1−ζ²)).",
  limits: [
    {
      id: ID,
      title: 'Peak over the settled level, share of settled gauge boost',
      unit: '%',
      warn: 10,
      fail: 20,
      source: 'common practice, no source',
    },
  ],
  cannotSee: [
    'A peak shorter than the time between two samples.',
    'Overshoot on a throttle stab in another gear or at another engine speed than those driven.',
    "What the sensor's own filter or a long hose to it has smoothed away.",
  ],
  cautions: [
    'Overshoot at full load can cause knock before timing control answers it: lower the boost before repeating the pull.',
  ],
};

function outcomeOf(boost: BoostPull, build: Build, limit: Limit): PullOutcome {
  const { rise, settled, unsettled, trace, pull } = boost;
  if (unsettled === 'climbing' || unsettled === 'swinging') {
    return notJudged(boost, `${unsettledWords(boost)}, so there is no level to overshoot.`);
  }
  if (!settled || !rise || unsettled) return cutShort(boost, limit);
  const bulgeKpa = askedForKpa(boost.target?.bulgeKpa ?? 0, rise.peakKpa, build);
  const bulge = (100 * bulgeKpa) / Math.max(rise.settledKpa, 1);
  const off = (percent: number) => Math.max(0, percent - bulge);
  const [value, low, high] = [off(rise.excessPercent), off(rise.lowPercent), off(rise.highPercent)];
  const aboveKpa = rise.peakKpa - rise.settledKpa;
  const judged = aboveKpa < LEAST_KPA ? 'pass' : judge(value, limit);
  const topped = toppedOutWords(boost);
  if (judged === 'pass' && topped) return notJudged(boost, topped);
  if (judged === 'pass' && isStillSpooling(boost, build)) {
    return notJudged(boost, `it ends at ${rpmWords(pull.rpm[1])}, still spooling, before boost came to its level.`);
  }
  if (!rise.seen) {
    return notJudged(
      boost,
      'boost was already there when the pull and the 3 s before it began, so its first rise was not logged.',
    );
  }
  if (trace.rateHz < SLOWEST_HZ && !(low >= (limit.warn ?? limit.fail ?? 0))) {
    return notJudged(
      boost,
      `${formatQuantity(trace.rateHz, 'Hz')} samples are too slow: below ${SLOWEST_HZ} Hz a whole overshoot can pass between two of them.`,
    );
  }
  if (judged === 'pass' && limit.fail !== undefined && high >= limit.fail && aboveKpa >= LEAST_KPA) {
    return notJudged(
      boost,
      `the samples are too far apart or too noisy: the true peak may lie anywhere up to ${formatQuantity(high, '%')} over.`,
    );
  }
  const share = `hence ${withInterval(value, low, high, '%')} of settled gauge boost`;
  const said = [
    `Pull ${pull.id}: the first rise peaked at ${formatQuantity(rise.peakKpa, 'kPa')} at ${rpmWords(rise.peakRpm)}; the settled line there is ${formatQuantity(rise.settledKpa, 'kPa')}; ${formatQuantity(Math.max(0, aboveKpa), 'kPa')} over, ${share}.`,
  ];
  if (aboveKpa < LEAST_KPA && judge(value, limit) !== 'pass') {
    said.push(
      `Pull ${pull.id}: less than ${formatQuantity(LEAST_KPA, 'kPa')} over is no fault, however large a share of so little boost it is.`,
    );
  }
  if (bulge > 0.5) {
    said.push(
      `Pull ${pull.id}: the logged target itself bulged by ${formatQuantity(bulgeKpa, 'kPa')} there; that part was asked for and is taken off.`,
    );
  }
  if (boost.ringing && judged !== 'pass') {
    said.push(
      `Pull ${pull.id}: it rings down with a period of ${formatQuantity(boost.ringing.periodS, 's')} and a damping ratio of ${boost.ringing.dampingRatio.toFixed(2)}.`,
    );
  }
  const places =
    judged === 'pass'
      ? []
      : [pullPlace(pull, rise.peakTimeS - 0.2, rise.peakTimeS + 0.2, [rise.peakRpm, rise.peakRpm])];
  return { boost, verdict: judged, value, low, high, said, places };
}

/** Boost that stays within this share of its peak for so long, s, before it falls has not overshot: it tapers. Common practice, no source. */
const PLATEAU_SHARE = 0.1;
const PLATEAU_S = 2.5;

/** How long boost lay near its peak, s. */
function plateauS({ peak, trace: { first, time, boost } }: BoostPull): number {
  const near = (1 - PLATEAU_SHARE) * peak.boostKpa;
  let from = first;
  while (from < time.length - 1 && boost[from] < near) from++;
  let to = time.length - 1;
  while (to > from && boost[to] < near) to--;
  return time[to] - time[from];
}

/** A pull that ended before boost settled can still prove an overshoot: what it had already lost since the peak. */
function cutShort(boost: BoostPull, limit: Limit): PullOutcome {
  const { peak, endBoostKpa, pull, trace } = boost;
  const fellKpa = peak.boostKpa - 2 * trace.noiseKpa - endBoostKpa;
  const value = (100 * fellKpa) / Math.max(endBoostKpa, 1);
  if (endBoostKpa < 10 || fellKpa < LEAST_KPA || judge(value, limit) === 'pass') {
    return notJudged(
      boost,
      toppedOutWords(boost) ?? 'it ended before boost settled, so there is no level to compare the peak with.',
    );
  }
  if (plateauS(boost) >= PLATEAU_S) {
    return notJudged(
      boost,
      `boost lay near its peak of ${formatQuantity(peak.boostKpa, 'kPa')} for ${formatQuantity(plateauS(boost), 's')} and then fell to ${formatQuantity(endBoostKpa, 'kPa')}: a taper, and no overshoot that this pull could show.`,
    );
  }
  const said = `Pull ${pull.id}: boost had fallen from ${formatQuantity(peak.boostKpa, 'kPa')} to ${formatQuantity(endBoostKpa, 'kPa')} when the pull ended, and had not settled; the overshoot is at least ${formatQuantity(value, '%')} of that.`;
  const places = [pullPlace(pull, peak.timeS - 0.2, peak.timeS + 0.2, [peak.rpm, peak.rpm])];
  return { boost, verdict: judge(value, limit), value, low: value, high: value, said: [said], places };
}

function detectable(outcomes: readonly PullOutcome[]): string {
  const judged = outcomes.filter((o) => o.value !== undefined);
  const widest = judged.reduce((a, b) => (b.high - b.low > a.high - a.low ? b : a));
  const smallest = Math.max(1, (widest.high - widest.low) / 2);
  return `An overshoot of ${formatQuantity(smallest, '%')} lasting ${formatQuantity(2 / widest.boost.trace.rateHz, 's')} would have been seen in every judged pull (${rateWords(widest.boost)}).`;
}

export const boostOvershoot: Analyser = {
  meta,
  assess(drive, { build, limits }) {
    const limit = limitOf(limits, ID);
    const evidence = boostEvidence(drive, build);
    const ceiling = ceilingFinding('boost-overshoot.ceiling', 'overshoot', drive, build, OVERSHOOT_NEXT.slice(0, 2));
    const extra = ceiling ? [ceiling] : [];
    if (!evidence.ok) return nothingJudged(ID, TITLE, evidence.why, evidence.needs, ceiling);
    const outcomes = [...evidence.pulls.map((boost) => outcomeOf(boost, build, limit)), ...evidence.frozen];
    const worst = decidingPull(outcomes);
    const reasoning = [
      ...outcomes.flatMap((o) => o.said),
      agreement(outcomes, '%'),
      ...evidence.pulls.map(glitchWords),
    ].filter((sentence) => sentence !== undefined);
    const tables = [overshootTable(outcomes)];
    if (worst.value === undefined) {
      const finding: Finding = {
        id: ID,
        verdict: 'not-assessed',
        title: TITLE,
        reasoning,
        where: [],
        causes: [],
        next: [],
      };
      return {
        summary: ceiling?.title ?? 'Not assessed: no pull shows a first rise that can be judged.',
        findings: keptOpen(finding, [...extra, finding]),
        needs: ['manifold_pressure'],
        tables,
      };
    }
    const topped = evidence.pulls.filter((boost) => boost.toppedOutKpa !== undefined);
    const bad = worst.verdict !== 'pass';
    const hidden = !bad && topped.length > 0;
    const found = withInterval(worst.value, worst.low, worst.high, '%', limit);
    const finding: Finding = {
      id: ID,
      verdict: hidden ? 'not-assessed' : worst.verdict,
      title: bad ? 'Boost shoots past its settled level' : hidden ? TITLE : 'No overshoot worth a warning',
      measured: { value: worst.value, unit: '%', low: worst.low, high: worst.high },
      limit: limitShown(limit),
      reasoning: [...reasoning, `Worst pull ${worst.boost.pull.id}: ${found} against ${limitWords(limit)}.`],
      where: outcomes.flatMap((o) => o.places),
      detectable: detectable(outcomes),
      causes: bad
        ? overshootCauses(
            outcomes,
            build.boost.control === 'manual',
            drive.recording.channels.has('manifold_pressure_target'),
          )
        : [],
      next: bad ? OVERSHOOT_NEXT : [],
    };
    const summary = bad
      ? `Boost shoots ${formatQuantity(worst.value, '%')} past its settled ${formatQuantity(worst.boost.rise?.settledKpa ?? worst.boost.endBoostKpa, 'kPa')} in pull ${worst.boost.pull.id}.`
      : hidden
        ? 'Not assessed: manifold pressure lies at the top of its sensor in a pull.'
        : `Largest overshoot ${formatQuantity(worst.value, '%')}, in pull ${worst.boost.pull.id}.`;
    return {
      summary: ceiling && !bad ? `${ceiling.title}.` : summary,
      findings: keptOpen(finding, [...extra, finding]),
      needs: [],
      tables,
    };
  },
};
