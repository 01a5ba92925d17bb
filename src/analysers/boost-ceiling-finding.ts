import type { Build } from '../build-sheet/build.ts';
import { type BoostShape, ceilingBreaches } from '../drive/boost/ceiling.ts';
import type { Drive } from '../drive/drive.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding, Place } from './finding.ts';
import { pullPlace, rpmWords } from './wording.ts';

/** Boost above the build sheet's ceiling, where its shape belongs to this question. */
export function ceilingFinding(
  id: string,
  shape: BoostShape,
  drive: Drive,
  build: Build,
  next: readonly string[],
): Finding | undefined {
  const { ceilingKpa } = build.boost;
  if (ceilingKpa === undefined) return undefined;
  const breaches = ceilingBreaches(drive, ceilingKpa).filter((breach) => breach.shape === shape);
  if (breaches.length === 0) return undefined;
  const worst = breaches.reduce((a, b) => (b.peakKpa > a.peakKpa ? b : a));
  const where = breaches.slice(0, 10).map((b): Place => {
    return b.pull ? pullPlace(b.pull, b.startS, b.endS) : { start: b.startS, end: b.endS };
  });
  const place = worst.pull ? `in pull ${worst.pull.id}` : 'outside the pulls';
  return {
    id,
    verdict: 'fail',
    title: `Boost went over the ceiling of ${formatQuantity(ceilingKpa, 'kPa')}`,
    measured: { value: worst.peakKpa, unit: 'kPa' },
    limit: { fail: ceilingKpa, unit: 'kPa', source: 'build sheet, boost.ceiling' },
    reasoning: [
      `Gauge boost reached ${formatQuantity(worst.peakKpa, 'kPa')} ${place} at ${rpmWords(worst.peakRpm)}, ${formatQuantity(worst.startS, 's')} into the log, in ${worst.samples} sample${worst.samples === 1 ? '' : 's'} on end.`,
      `The build sheet allows ${formatQuantity(ceilingKpa, 'kPa')} and the ceiling is absolute, hence a fail by ${formatQuantity(worst.peakKpa - ceilingKpa, 'kPa')}.`,
    ],
    where,
    causes: [],
    next: ['Do not repeat the pull at this setting.', ...next],
  };
}
