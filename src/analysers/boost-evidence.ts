import type { Build } from '../build-sheet/build.ts';
import { gaugeBoost } from '../drive/boost/gauge-boost.ts';
import { type BoostPull, settledBoost } from '../drive/boost/settled-boost.ts';
import type { Drive } from '../drive/drive.ts';
import { formatNumber, formatQuantity } from '../kernel/format-number.ts';
import type { Assessment } from './analyser.ts';
import type { Finding, Place, Verdict } from './finding.ts';
import { frozenClause } from './frozen-pulls.ts';
import { notAssessedFinding, pullNames } from './wording.ts';

/** Gauge pressure below this all through a log is no boost, kPa. */
export const NO_BOOST_KPA = 10;

/** The pulls that can answer a boost question, or why none can. */
export type BoostEvidence =
  | {
      readonly ok: true;
      readonly pulls: readonly BoostPull[];
      /** Pulls in which manifold pressure froze: not judged. */
      readonly frozen: readonly PullOutcome[];
    }
  | {
      readonly ok: false;
      readonly why: string;
      readonly needs: readonly string[];
      /** Highest gauge pressure where the log shows no boost, kPa. */
      readonly noBoostKpa: number | undefined;
    };

/** Whether the build sheet says that this engine makes boost. */
export function shouldBoost(build: Build): boolean {
  const { control, targetKpa, wastegateCrackingAssumed } = build.boost;
  if (control === 'none') return false;
  return control !== undefined || targetKpa !== undefined || !wastegateCrackingAssumed;
}

export function boostEvidence(drive: Drive, build: Build): BoostEvidence {
  const without = (why: string, needs: readonly string[]) =>
    ({ ok: false, why, needs, noBoostKpa: undefined }) as const;
  if (!gaugeBoost(drive)) return without('Manifold pressure is not logged.', ['manifold_pressure']);
  if (!drive.recording.channels.has('engine_speed')) return without('Engine speed is not logged.', ['engine_speed']);
  if (drive.pulls.length === 0) {
    const needs = drive.load ? [] : ['accelerator_position', 'throttle_position'];
    return without(drive.notes[0] ?? 'The log holds no full-load pull.', needs);
  }
  const measured = settledBoost(drive);
  if (measured.length === 0) {
    const why = drive.pulls.map(
      ({ id, fitness }) => `Pull ${id}: ${fitness.boost.ok ? 'too few samples' : fitness.boost.why}.`,
    );
    return without(`No pull can be judged for boost. ${why.join(' ')}`, ['manifold_pressure']);
  }
  const frozen: PullOutcome[] = [];
  const pulls: BoostPull[] = [];
  for (const boost of measured) {
    const clause = frozenClause(drive, 'manifold_pressure', boost.pull);
    if (clause === undefined) pulls.push(boost);
    else frozen.push(notJudged(boost, `not judged, ${clause}.`));
  }
  if (pulls.length === 0) {
    const why = `Manifold pressure froze in every pull. ${frozen.flatMap(({ said }) => said).join(' ')}`;
    return without(why, ['manifold_pressure']);
  }
  const highest = Math.max(...pulls.map((p) => Math.max(p.peak.boostKpa - 3 * p.trace.noiseKpa, p.endBoostKpa)));
  if (highest < NO_BOOST_KPA) {
    const said = shouldBoost(build) ? ' The build sheet says that there should be: see boost-creep.spring.' : '';
    const why = `There is no boost in this log: gauge pressure in the pulls never rose above ${formatQuantity(NO_BOOST_KPA, 'kPa')} (highest ${formatQuantity(highest, 'kPa')}).${said}`;
    return { ok: false, why, needs: [], noBoostKpa: highest };
  }
  return { ok: true, pulls, frozen };
}

/** The assessment where nothing could be judged; a breach of the ceiling counts all the same. */
export function nothingJudged(
  id: string,
  title: string,
  why: string,
  needs: readonly string[],
  ceiling?: Finding,
): Assessment {
  const open = notAssessedFinding(id, title, why);
  return {
    summary: ceiling ? `${ceiling.title}.` : `Not assessed. ${why}`,
    findings: ceiling ? [ceiling, open] : [open],
    needs,
    tables: [],
  };
}

/** A pull that got this far up the speed range has shown whether boost settles. */
export const NEAR_REDLINE = 0.85;

/** Whether boost ended well above what the hardware should give, as far as the build sheet tells. */
function isHigh(boost: BoostPull, build: Build): boolean {
  const { targetKpa, ceilingKpa, control, wastegateCrackingKpa } = build.boost;
  if (ceilingKpa !== undefined && boost.endBoostKpa > ceilingKpa) return true;
  if (targetKpa !== undefined) return boost.endBoostKpa > 1.1 * targetKpa;
  const roomKpa = control === 'manual' ? 30 : 80;
  return control !== 'electronic' && boost.endBoostKpa > 2 * wastegateCrackingKpa[1] + roomKpa;
}

/** Whether the pull ended low in the speed range, with boost still on its way up. */
export function isStillSpooling(boost: BoostPull, build: Build): boolean {
  if (boost.pull.rpm[1] >= NEAR_REDLINE * build.engine.redlineRpm || isHigh(boost, build)) return false;
  const { settled, rise } = boost;
  if (!settled || boost.unsettled) return boost.unsettled === 'climbing';
  if (settled.riseLow <= 0 || settled.riseKpa < Math.max(5, 0.08 * settled.levelKpa)) return false;
  const { targetKpa } = build.boost;
  if (targetKpa !== undefined && settled.endKpa < 0.95 * targetKpa) return true;
  const endS = boost.trace.time[boost.trace.time.length - 1];
  const brief = endS - settled.settleS < 1.5 * (rise?.riseTimeS ?? 0.8);
  return brief && settled.riseKpa > 0.15 * settled.levelKpa;
}

/**
 * How much of a move the logged target asked for, kPa. What takes boost well past the build sheet's own target is not
 * excused by a logged target that went along.
 */
export function askedForKpa(movedKpa: number, reachedKpa: number, build: Build): number {
  const { targetKpa } = build.boost;
  if (movedKpa < 1 || (targetKpa !== undefined && reachedKpa > 1.1 * targetKpa)) return 0;
  return movedKpa;
}

/** Why a pull that did not settle has no level to judge by. */
export function unsettledWords(boost: BoostPull): string {
  if (boost.unsettled === 'swinging') return 'boost swings to the end and never settles (see boost-creep)';
  if (boost.unsettled === 'climbing') return 'boost was still climbing when it ended (see boost-creep)';
  return 'it ended before boost settled';
}

/** What one pull says to one question. */
export interface PullOutcome {
  readonly boost: BoostPull;
  readonly verdict: Verdict;
  /** Undefined where the pull could not be judged. */
  readonly value: number | undefined;
  readonly low: number;
  readonly high: number;
  /** Sentences: what was seen in this pull, or why it could not be judged. */
  readonly said: readonly string[];
  readonly places: readonly Place[];
}

export function notJudged(boost: BoostPull, why: string): PullOutcome {
  const value = undefined;
  return {
    boost,
    verdict: 'not-assessed',
    value,
    low: 0,
    high: 0,
    said: [`Pull ${boost.pull.id}: ${why}`],
    places: [],
  };
}

const RANK: readonly Verdict[] = ['not-assessed', 'pass', 'warn', 'fail'];

/** The pull that decides: worst verdict, then largest value. */
export function decidingPull(outcomes: readonly PullOutcome[]): PullOutcome {
  return [...outcomes].sort(
    (a, b) =>
      RANK.indexOf(b.verdict) - RANK.indexOf(a.verdict) ||
      (b.value ?? -1) - (a.value ?? -1) ||
      a.boost.pull.id - b.boost.pull.id,
  )[0];
}

/** How far the judged pulls agree: a fault in one of several is still reported, and the others are named. */
export function agreement(outcomes: readonly PullOutcome[], unit: string): string | undefined {
  const judged = outcomes.filter((o) => o.value !== undefined);
  if (judged.length < 2) return undefined;
  const bad = judged.filter((o) => o.verdict === 'warn' || o.verdict === 'fail');
  const list = judged.map((o) => `${formatNumber(o.value as number, unit)}`).join(', ');
  const values = `${pullNames(judged.map((o) => o.boost.pull.id))}: ${list} ${unit}`;
  if (bad.length === 0) return `The pulls agree that there is no fault (${values}).`;
  const names = pullNames(bad.map((o) => o.boost.pull.id));
  if (bad.length === judged.length) return `It repeats in every judged pull (${values}).`;
  return `Seen in ${names} of ${judged.length} judged pulls; the others did not show it (${values}).`;
}

/** Samples left out as impossible, told once a pull. */
export function glitchWords(boost: BoostPull): string | undefined {
  const { glitches, pull } = boost;
  if (glitches.length === 0) return undefined;
  const worst = glitches.reduce((a, b) => (Math.abs(b.jumpKpa) > Math.abs(a.jumpKpa) ? b : a));
  const count = glitches.length === 1 ? 'one sample was' : `${glitches.length} samples were`;
  return `Pull ${pull.id}: ${count} left out, because manifold pressure cannot move like that (largest: ${formatQuantity(worst.jumpKpa, 'kPa')} in one sample at ${formatQuantity(worst.timeS, 's')}). That is a question for the sensor and its wiring.`;
}

/** Why a trace at the end of its sensor's range cannot pass. */
export function toppedOutWords(boost: BoostPull): string | undefined {
  if (boost.toppedOutKpa === undefined) return undefined;
  return `manifold pressure lies at the top of what the channel can show (${formatQuantity(boost.toppedOutKpa, 'kPa')} absolute), so true boost was that or higher.`;
}

export function rateWords(boost: BoostPull): string {
  return `${formatQuantity(boost.trace.rateHz, 'Hz')} samples, noise ${formatQuantity(boost.trace.noiseKpa, 'kPa')}`;
}
