import { judge, type Limit } from '../build-sheet/limit.ts';
import type { TorqueEstimate } from '../drive/torque/estimate.ts';
import { formatAgainst, formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { nm, torqueWords } from './torque-words.ts';
import { limitShown, limitWords, pullPlace, rpmWords } from './wording.ts';

/** The highest torque in the lower half of the engine speeds: the load that bends rods. Nothing where no pull was there. */
export function lowSpeedFinding(
  { pulls, lowUpToRpm }: TorqueEstimate,
  limitNm: number | undefined,
  limit: Limit,
): Finding | undefined {
  let top = pulls.find(({ low }) => low !== undefined);
  for (const torque of pulls) if (torque.low && torque.low.nm > (top?.low?.nm ?? 0)) top = torque;
  if (!top?.low) return undefined;
  const { low, pull, peak } = top;
  const seen = `Below ${rpmWords(lowUpToRpm)} torque reaches ${torqueWords(low)} at ${rpmWords(low.rpm)} in pull ${pull.id}, ${formatQuantity((100 * low.nm) / peak.nm, '%')} of the highest of that pull.`;
  const why =
    'At low engine speed the pistons hardly pull on the rods, so gas pressure loads them in full, knock has the most time, and oil films are thinnest: torque there is worth less than the same torque higher up.';
  const common = {
    id: 'torque.low-speed',
    where: [pullPlace(pull, low.atS, low.atS, [low.rpm, low.rpm])],
    causes: [],
  };
  if (limitNm === undefined) {
    return {
      ...common,
      verdict: 'not-assessed',
      title: `${nm(low.nm)} at ${rpmWords(low.rpm)}, and no limit to hold it against`,
      measured: { value: low.nm, unit: 'N m', low: low.low, high: low.high },
      reasoning: [seen, why, 'The build sheet names no bottomEnd.torqueLimit, so it is measured and not judged.'],
      next: [],
    };
  }
  const value = (100 * low.nm) / limitNm;
  const verdict = judge(value, limit);
  const bad = verdict !== 'pass';
  return {
    ...common,
    verdict,
    title: `Torque at low engine speed is ${formatQuantity(value, '%')} of what the bottom end takes`,
    measured: { value, unit: '%', low: (100 * low.low) / limitNm, high: (100 * low.high) / limitNm },
    limit: limitShown(limit),
    reasoning: [
      seen,
      why,
      `Against the ${nm(limitNm)} of bottomEnd.torqueLimit: ${formatAgainst(value, '%', limit)}, ${limitWords(limit)}.`,
    ],
    ...(bad
      ? {}
      : {
          detectable: `Any torque above ${formatQuantity(limit.warn ?? limit.fail ?? 100, '%')} would have been told.`,
        }),
    next: bad
      ? [
          `Bring boost in later or hold it lower below ${rpmWords(lowUpToRpm)}.`,
          'Do not pull from low engine speed in a high gear.',
        ]
      : [],
  };
}
