import type { Build } from '../build-sheet/build.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import { creepNext } from './boost-creep-words.ts';
import { shouldBoost } from './boost-evidence.ts';
import type { Finding } from './finding.ts';
import { springBand } from './spring-band.ts';
import { pullPlace, rpmWords, withInterval } from './wording.ts';

/** Swings that stay below the size of a boost that never settles, but above this, are worth a warning, kPa. */
const HUNTING_KPA = 7;

/** Settled boost that keeps swinging by less than a boost that never settles. */
export function huntingFinding(pulls: readonly BoostPull[]): Finding | undefined {
  const hunting = pulls.filter((p) => !p.unsettled && p.swing?.lasting && p.swing.lastSwingKpa >= HUNTING_KPA);
  if (hunting.length === 0) return undefined;
  const size = (p: BoostPull) => p.swing?.lastSwingKpa ?? 0;
  const worst = hunting.reduce((a, b) => (size(b) > size(a) ? b : a));
  return {
    id: 'boost-creep.hunting',
    verdict: 'warn',
    title: 'Settled boost hunts about its level',
    measured: { value: size(worst), unit: 'kPa' },
    limit: { warn: HUNTING_KPA, unit: 'kPa', source: 'common practice, no source' },
    reasoning: hunting.map(
      (p) =>
        `Pull ${p.pull.id}: swings by ${formatQuantity(size(p), 'kPa')} from top to bottom, period ${formatQuantity(p.swing?.periodS ?? 0, 's')}, to the end of the pull.`,
    ),
    where: hunting.map((p) => pullPlace(p.pull)),
    causes: [],
    next: creepNext(false).slice(0, 2),
  };
}

/** A falling settled line is told, and is no fault by itself. */
export function taperFinding(pulls: readonly BoostPull[]): Finding | undefined {
  const falling = pulls.filter(({ settled }) => {
    return settled && settled.riseHigh < 0 && settled.riseKpa < -Math.max(3, 0.03 * settled.levelKpa);
  });
  const rise = (p: BoostPull) => p.settled?.riseKpa ?? 0;
  if (falling.length === 0) return undefined;
  const worst = falling.reduce((a, b) => (rise(b) < rise(a) ? b : a));
  return {
    id: 'boost-creep.taper',
    verdict: 'pass',
    title: 'Boost tapers off towards the top',
    measured: { value: rise(worst), unit: 'kPa', low: worst.settled?.riseLow ?? 0, high: worst.settled?.riseHigh ?? 0 },
    reasoning: [
      ...falling.flatMap(({ pull, settled }) =>
        settled
          ? [
              `Pull ${pull.id}: the settled line falls by ${withInterval(-settled.riseKpa, -settled.riseHigh, -settled.riseLow, 'kPa')} from ${rpmWords(settled.settleRpm)} to ${rpmWords(settled.endRpm)}.`,
            ]
          : [],
      ),
      'A falling line is taper: a small turbine or compressor at its flow limit, a restricted intake or exhaust, or a target that falls. It is no fault by itself.',
    ],
    where: falling.map((p) => pullPlace(p.pull)),
    causes: [],
    next: [],
  };
}

const NEXT_HIGH = [
  'Check that the control line is on and tight at the actuator.',
  'Check that the controller really is wound out, or write its intended boost into the build sheet (boost.target).',
  'Press the actuator with a hand pump and see at what pressure the gate starts to move.',
];
const NEXT_LOW = [
  'Look for a charge-air leak: hoses, clamps, intercooler, throttle gasket, recirculation valve.',
  'Check that the gate closes fully and that the actuator spring has its preload.',
  'Check manifold pressure in the mapping: unit, gauge or absolute.',
];

/**
 * Settled boost against what the actuator's spring gives. With a controller wound out, boost belongs near cracking
 * pressure (common practice, no source); only a hand-set controller without a written target is held against it.
 */
export function springFinding(
  pulls: readonly BoostPull[],
  build: Build,
  noBoostKpa: number | undefined,
): Finding | undefined {
  const { control, targetKpa, wastegateCrackingKpa } = build.boost;
  const [lower] = wastegateCrackingKpa;
  const { leastKpa, mostKpa, mostWords, crackingWords, source } = springBand(build.boost);
  const id = 'boost-creep.spring';
  if (noBoostKpa !== undefined) {
    if (!shouldBoost(build)) return undefined;
    return {
      id,
      verdict: 'warn',
      title: 'No boost, though the build sheet says there should be',
      measured: { value: noBoostKpa, unit: 'kPa' },
      limit: { warn: lower, unit: 'kPa', source: `${source}; a value below it warns` },
      reasoning: [
        `Gauge pressure in the pulls reaches ${formatQuantity(noBoostKpa, 'kPa')}; the wastegate starts to open at ${crackingWords}, so boost should at least come up to that.`,
      ],
      where: [],
      causes: [
        { cause: 'A charge-air hose off, or a gate stuck open', for: [], against: [] },
        { cause: 'Manifold pressure mapped with the wrong unit or reference', for: [], against: [] },
      ],
      next: NEXT_LOW,
    };
  }
  if (control !== 'manual' || pulls.length === 0) return undefined;
  const levelKpa = median(pulls.map((p) => p.settled?.levelKpa ?? 0));
  const seen = `Settled boost is ${formatQuantity(levelKpa, 'kPa')} (median of ${pulls.length} pull${pulls.length === 1 ? '' : 's'}); the wastegate starts to open at ${crackingWords}.`;
  if (targetKpa !== undefined) {
    const reasoning = [
      seen,
      `The build sheet's target is ${formatQuantity(targetKpa, 'kPa')}; a hand-set controller is meant to hold boost above the spring, so nothing follows from the difference.`,
    ];
    return {
      id,
      verdict: 'pass',
      title: 'Settled boost beside the spring pressure',
      measured: { value: levelKpa, unit: 'kPa' },
      reasoning,
      where: [],
      causes: [],
      next: [],
    };
  }
  const high = levelKpa >= mostKpa;
  const low = levelKpa < leastKpa;
  const belongs = high
    ? `Above ${formatQuantity(mostKpa, 'kPa')} (${mostWords}) the spring does not explain it.`
    : low
      ? `Below ${formatQuantity(leastKpa, 'kPa')} the gate has not even been asked to open.`
      : 'With the controller wound out, boost belongs near cracking pressure; it has room above that as the controller is wound in.';
  return {
    id,
    verdict: high || low ? 'warn' : 'pass',
    title: high
      ? 'Settled boost is far above what the spring gives'
      : low
        ? 'Settled boost is far below the spring pressure'
        : 'Settled boost fits the spring pressure',
    measured: { value: levelKpa, unit: 'kPa' },
    ...(high
      ? { limit: { warn: mostKpa, unit: 'kPa', source } }
      : low
        ? { limit: { warn: leastKpa, unit: 'kPa', source: `${source}; a value below it warns` } }
        : {}),
    reasoning: [seen, belongs],
    where: high || low ? pulls.map((p) => pullPlace(p.pull)) : [],
    causes: high
      ? [
          {
            cause: 'The controller is not wound out: the boost is intended',
            for: [],
            against: ['the build sheet names no target'],
          },
          { cause: 'Control line off, or gate stuck', for: [], against: ['boost does settle'] },
        ]
      : low
        ? [{ cause: 'A charge-air leak, or a gate that does not close', for: [], against: [] }]
        : [],
    next: high ? NEXT_HIGH : low ? NEXT_LOW : [],
  };
}
