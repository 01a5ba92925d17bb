import type { Build } from '../../build-sheet/build.ts';
import { effectiveSampleSize } from '../../signal/effective-sample-size.ts';
import { largest } from '../../signal/extremes.ts';
import { median } from '../../signal/median.ts';
import { medianInterval } from '../../signal/median-interval.ts';
import type { Drive, Pull } from '../drive.ts';
import { froze } from '../health/frozen.ts';
import { type LambdaLag, lambdaLag } from '../mixture/lag.ts';
import { cleanLambda, mixtureSamples } from '../mixture/samples.ts';
import { type MixtureTarget, mixtureTarget } from '../mixture/target.ts';
import { levelAt } from '../trim/grid.ts';
import type { LoadAxis } from '../trim/load-axis.ts';
import { FINE, regionBook } from '../trim/regions.ts';
import type { CorrectionCell } from './cells.ts';

/** The enrichment of a pull and the rise of boost are left out for so long after its start, transport aside, s. Common practice, no source. */
const ENTRY_S = 1.5;
/** Full load: this share of the pull's highest boost. Common practice, no source. */
const FULL_SHARE = 0.7;
/** A target that moves faster than the lag is known is not compared with. */
const UNSURE = 0.012;
const FEWEST = 5;
/** What a wide-band sensor may be off by, share of lambda. Common practice, no source. */
const SENSOR_SHARE = 0.01;

interface Reading {
  readonly region: number;
  /** Measured over asked lambda. */
  readonly ratio: number;
  readonly unsure: number;
}

function readingsOf(
  drive: Drive,
  pull: Pull,
  lag: LambdaLag,
  target: MixtureTarget,
  place: (rpm: number, load: number) => number,
  axis: LoadAxis | undefined,
): Reading[] {
  const s = mixtureSamples(drive, pull, lag);
  if (!s || s.time.length < FEWEST) return [];
  const { expected, unsure } = target.expectedAt(s.time);
  const load = axis ? levelAt(axis.channel, s.burntS) : undefined;
  const topKpa = largest(s.boost.filter(Number.isFinite));
  const fromS = pull.startS + lag.deadS + lag.tauS + ENTRY_S;
  const readings: Reading[] = [];
  for (let i = 0, n = s.time.length; i < n; i++) {
    const isFull = !(topKpa > 0) || s.boost[i] >= FULL_SHARE * topKpa;
    if (s.time[i] < fromS || s.burntS[i] >= pull.endS || s.isCut(i) || !isFull || unsure[i] > UNSURE) continue;
    if (!Number.isFinite(s.rpm[i])) continue;
    readings.push({
      region: place(s.rpm[i], load ? load[i] : Number.NaN),
      ratio: s.lambda[i] / expected[i],
      unsure: (unsure[i] + target.halfStep) / expected[i],
    });
  }
  return readings;
}

/** Measured over asked lambda in the settled part of the pulls, by engine speed and load: lean asks for more fuel. */
export function fullLoadCells(drive: Drive, build: Build, axis: LoadAxis | undefined): CorrectionCell[] {
  const clean = cleanLambda(drive);
  const lambda = drive.recording.channels.get('lambda');
  const pulls = drive.pulls.filter((pull) => pull.usable && pull.fitness.mixture.ok && !froze(drive, ['lambda'], pull));
  if (!clean || !lambda || lambda.max - lambda.min < 0.01 || pulls.length === 0) return [];
  const lag = lambdaLag(drive);
  const target = mixtureTarget(drive, build, lag);
  if (!target) return [];
  const book = regionBook(FINE, axis);
  const place = (rpm: number, load: number) => book.indexAt(false, rpm, load);
  const readings = pulls.flatMap((pull) => readingsOf(drive, pull, lag, target, place, axis));
  const step = lambda.step < 0.02 ? lambda.step / 2 : 0;
  return book.regions
    .map((region, r) =>
      cellOf(
        region,
        readings.filter((reading) => reading.region === r),
        clean.rateHz,
        step,
      ),
    )
    .toSorted((a, b) => order(a) - order(b));
}

const order = ({ region }: CorrectionCell) => (region.rpm?.[0] ?? 0) * 1000 + (region.load?.[0] ?? 0);

function cellOf(
  region: CorrectionCell['region'],
  readings: readonly Reading[],
  rateHz: number,
  halfStep: number,
): CorrectionCell {
  const ratios = readings.map(({ ratio }) => ratio);
  const samples = ratios.length < 3 ? ratios.length : effectiveSampleSize(ratios);
  const { low, high } = medianInterval(ratios, samples);
  const half = Math.max(...readings.map(({ unsure }) => unsure)) + halfStep + SENSOR_SHARE;
  return {
    source: 'full load',
    region,
    ratio: median(ratios),
    low: low - half,
    high: high + half,
    samples,
    seconds: ratios.length / rateHz,
    enough: ratios.length >= FEWEST,
  };
}
