import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit } from '../build-sheet/limit.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import type { Drive } from '../drive/drive.ts';
import { pressureRatio } from '../engine/pressure-ratio.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import { NEAR_REDLINE } from './boost-evidence.ts';
import { targetNext } from './boost-target-words.ts';
import type { Finding } from './finding.ts';
import { springBand } from './spring-band.ts';
import { limitShown, limitWords, pullPlace } from './wording.ts';

const kpa = (value: number) => formatQuantity(value, 'kPa');

/** Standard air at sea level, kPa. */
const SEA_LEVEL_KPA = 101.325;
/** Outside air below this is worth a word about the compressor, kPa (about 540 m). */
const THIN_KPA = 95;

export const levelOf = (pulls: readonly BoostPull[]) => median(pulls.map((p) => p.settled?.levelKpa ?? 0));

/** Pressure ratio now and for the same gauge boost at sea level, in one sentence. */
export function ratioSentence(drive: Drive, boostKpa: number): string {
  const { kpa: barometric, note } = drive.recording.barometric;
  const [here, low] = [pressureRatio(boostKpa, barometric), pressureRatio(boostKpa, SEA_LEVEL_KPA)];
  return `${kpa(boostKpa)} gauge over ${kpa(barometric)} of outside air is a pressure ratio of ${here.toFixed(2)}; at sea level it would be ${low.toFixed(2)}. ${note}`;
}

/** In thin air the same gauge boost asks more of the compressor: told, no fault. */
export function thinAirFinding(drive: Drive, pulls: readonly BoostPull[]): Finding | undefined {
  const barometric = drive.recording.barometric.kpa;
  if (barometric >= THIN_KPA || drive.recording.barometric.source === 'standard atmosphere') return undefined;
  const boostKpa = levelOf(pulls);
  const ratio = pressureRatio(boostKpa, barometric);
  return {
    id: 'boost-target.pressure-ratio',
    verdict: 'pass',
    title: `Thin air: the compressor works at a pressure ratio of ${ratio.toFixed(2)}`,
    measured: { value: ratio, unit: 'ratio' },
    reasoning: [
      ratioSentence(drive, boostKpa),
      `The same gauge boost is ${kpa(SEA_LEVEL_KPA - barometric)} less absolute pressure here, with a hotter charge and a faster turbine. A car set up here to a gauge target breathes more at sea level: log it again there before the keys go back.`,
    ],
    where: [],
    causes: [],
    next: [],
  };
}

/** Settled boost, or the target, against the pressure in which the gate starts to open. */
export function springFinding(pulls: readonly BoostPull[], build: Build): Finding | undefined {
  const { control, targetKpa, wastegateCrackingKpa, wastegateCrackingAssumed } = build.boost;
  if (control !== 'manual' && control !== 'none') return undefined;
  const [lower] = wastegateCrackingKpa;
  const levelKpa = levelOf(pulls);
  const { leastKpa, mostKpa, mostWords, crackingWords, source } = springBand(build.boost);
  const who = control === 'manual' ? 'a hand-set controller' : 'the spring alone';
  const seen = `Settled boost is ${kpa(levelKpa)}; the wastegate starts to open at ${crackingWords}, with ${who}.`;
  const common = {
    id: 'boost-target.spring',
    measured: { value: levelKpa, unit: 'kPa' },
    where: pulls.map((p) => pullPlace(p.pull)),
    causes: [],
  };
  if (targetKpa !== undefined && targetKpa < lower && !wastegateCrackingAssumed) {
    return {
      ...common,
      verdict: 'warn',
      title: 'The target lies below what the spring gives',
      limit: { warn: lower, unit: 'kPa', source: `${source}; a target below it warns` },
      reasoning: [
        seen,
        `The target of ${kpa(targetKpa)} is below that: a controller can only hold the gate shut for longer than the spring, so it cannot be reached.`,
      ],
      next: ['Fit a softer spring, or raise the target to what the spring gives.'],
    };
  }
  const [high, low] = [levelKpa >= mostKpa, levelKpa < leastKpa];
  if (targetKpa !== undefined || (!high && !low)) {
    const belongs =
      targetKpa === undefined
        ? `Boost belongs between ${kpa(leastKpa)} and ${kpa(mostKpa)} there (common practice, no source).`
        : 'The target says how far above the spring boost is meant to be.';
    return {
      ...common,
      verdict: 'pass',
      title: 'Settled boost beside the spring pressure',
      reasoning: [seen, belongs],
      detectable: `Settled boost below ${kpa(leastKpa)} or above ${kpa(mostKpa)} without a target would have been told.`,
      next: [],
    };
  }
  return {
    ...common,
    verdict: 'warn',
    title: high ? 'Settled boost is far above what the spring gives' : 'Settled boost is far below the spring pressure',
    limit: {
      warn: high ? mostKpa : leastKpa,
      unit: 'kPa',
      source: high ? source : `${source}; a value below it warns`,
    },
    reasoning: [
      seen,
      high
        ? `Above ${kpa(mostKpa)} (${mostWords}) the spring does not explain it.`
        : `Below ${kpa(leastKpa)} the gate has not even been asked to open.`,
    ],
    next: high
      ? [
          'Check that the control line is on and tight at the actuator.',
          'Write the boost that is meant into the build sheet (boost.target).',
        ]
      : ['Look for a charge-air leak and a gate that does not close.'],
  };
}

/** No boost at all although the sheet has a target, in pulls that went far enough up to have made it. */
export function noBoostFinding(drive: Drive, build: Build, highestKpa: number, limit: Limit): Finding | undefined {
  const { targetKpa } = build.boost;
  const pulls = drive.pulls.filter(
    ({ usable, rpm, fitness }) => usable && fitness.boost.ok && rpm[1] >= NEAR_REDLINE * build.engine.redlineRpm,
  );
  if (targetKpa === undefined || !(targetKpa > 0) || pulls.length === 0) return undefined;
  const value = (100 * Math.abs(highestKpa - targetKpa)) / targetKpa;
  const verdict = judge(value, limit);
  return {
    id: 'boost-target.error',
    verdict,
    title: verdict === 'pass' ? 'There is next to no boost, and next to none is asked for' : 'There is no boost',
    measured: { value, unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      `Gauge pressure in the pulls never rose above ${kpa(highestKpa)}; the build sheet's target is ${kpa(targetKpa)}: ${formatQuantity(value, '%')} below it, ${limitWords(limit)}.`,
    ],
    where: pulls.map((pull) => pullPlace(pull)),
    causes: [
      { cause: 'A charge-air hose off, or a gate stuck open', for: [], against: [] },
      { cause: 'Manifold pressure mapped with the wrong unit or reference', for: [], against: [] },
    ],
    next: ['Check manifold pressure in the mapping: unit, gauge or absolute.', ...targetNext(false)],
  };
}
