import type { Build } from '../../build-sheet/build.ts';
import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { median } from '../../signal/median.ts';
import { quantile } from '../../signal/quantile.ts';
import { rateOfChange } from '../../signal/rate-of-change.ts';
import { bridgeableGapS } from '../align.ts';
import { channelSeries, engineSpeedAt } from '../channel-series.ts';
import { type Drive, REGIME_CODE, type Series } from '../drive.ts';
import { noiseInPulls } from '../noise-in-pulls.ts';
import { cutSeries } from '../pull-series.ts';
import { amongRegimes, regimesAt } from '../regime-at.ts';

export type RetardBasis = 'cylinder' | 'global' | 'target-minus-actual' | 'advance-drop';

/** Retard through the log, deg above its resting level, from one source. */
export interface RetardTrack extends Series {
  readonly basis: RetardBasis;
  readonly cylinder: number | undefined;
  /** As it stands in a sentence: "cylinder 3", "the engine". */
  readonly label: string;
  /** Resting level that was taken off, deg. */
  readonly restDeg: number;
  /** Smallest step of the logged number, deg; 0 where unknown. */
  readonly stepDeg: number;
  readonly noiseDeg: number;
  /** What has to be reached to count as retard at all, deg. */
  readonly thresholdDeg: number;
}

/** A channel that only ever goes down although retard is positive: the sign of the mapping is in question. */
export interface SignQuestion {
  readonly channel: ChannelId;
  readonly column: string;
  readonly lowestDeg: number;
  readonly atS: number;
}

export interface RetardTracks {
  readonly tracks: readonly RetardTrack[];
  readonly signs: readonly SignQuestion[];
  readonly notes: readonly string[];
}

const LEAST_DEG = 0.6;
const NOISE_MULTIPLE = 4.5;
const SIGN_ASKED_FROM_DEG = 1;
const CYLINDERS = 12;
/** A channel that took few values looks coarse without being so; no controller logs retard in steps above this, deg. */
const COARSEST_STEP_DEG = 1.5;
const MOST_RESTING = 1000;

/** Sample noise beyond what the number's own step makes. */
function noiseOf(drive: Drive, series: Pick<Series, 'time' | 'values'>, stepDeg: number): number {
  const noise = noiseInPulls(drive, series);
  return noise > 0.5 * stepDeg ? noise : 0;
}

const thresholdOf = (noiseDeg: number, stepDeg: number, skewDeg = 0) =>
  Math.max(LEAST_DEG, NOISE_MULTIPLE * noiseDeg, 0.6 * stepDeg) + skewDeg;

/** By the code of the regime, whether nothing should pull timing for long in it. */
const IS_RESTING = amongRegimes('idle', 'cruise', 'transient', 'fuel-cut');

/** The level that the channel rests at with the engine running and no pull: a low quartile, so that retard elsewhere does not lift it. */
function restingLevel(drive: Drive, { time, values }: Series): number {
  const resting: number[] = [];
  let base = 0;
  const stride = Math.max(1, Math.floor(time.length / MOST_RESTING));
  for (let i = 0, n = time.length; i < n; i += stride) {
    while (base < drive.time.length - 1 && drive.time[base + 1] <= time[i]) base++;
    if (IS_RESTING[drive.regime[base]]) resting.push(values[i]);
  }
  return resting.length >= 8 ? quantile(resting, 0.25) : quantile(values, 0.1);
}

/** A resting level this near zero, or within its noise, is zero. */
const knownLevel = (deg: number, noiseDeg: number) => (Math.abs(deg) < Math.max(0.3, 2 * noiseDeg) ? 0 : deg);

function signQuestion(channel: Channel): SignQuestion | undefined {
  if (channel.max > 0.5 || channel.min > -SIGN_ASKED_FROM_DEG) return undefined;
  if (channel.max - channel.min < SIGN_ASKED_FROM_DEG) return undefined;
  const at = channel.values.indexOf(channel.min);
  return { channel: channel.id, column: channel.column, lowestDeg: channel.min, atS: channel.time[at] };
}

function loggedTrack(drive: Drive, id: ChannelId, cylinder: number | undefined): RetardTrack | undefined {
  const series = channelSeries(drive, id);
  const channel = drive.recording.channels.get(id);
  if (!series || !channel || series.time.length < 2) return undefined;
  const stepDeg = Math.min(COARSEST_STEP_DEG, channel.step);
  const isStill = channel.min === channel.max;
  const noiseDeg = isStill ? 0 : noiseOf(drive, series, stepDeg);
  const restDeg = knownLevel(isStill ? channel.min : restingLevel(drive, series), noiseDeg);
  return {
    ...series,
    values: restDeg === 0 ? series.values : series.values.map((value) => value - restDeg),
    basis: cylinder === undefined ? 'global' : 'cylinder',
    cylinder,
    label: cylinder === undefined ? 'the engine' : `cylinder ${cylinder}`,
    restDeg,
    stepDeg,
    noiseDeg,
    thresholdDeg: thresholdOf(noiseDeg, stepDeg),
  };
}

/** Target minus actual advance; its resting level is that of the pulls themselves, since idle control moves the spark freely. */
function targetTrack(drive: Drive): RetardTrack | undefined {
  const actual = drive.recording.channels.get('spark_advance');
  const target = drive.recording.channels.get('spark_advance_target');
  if (!actual || !target) return undefined;
  const wanted = interpolateAt(target.time, target.values, actual.time, bridgeableGapS(target));
  const known = (_: number, i: number) => Number.isFinite(wanted[i]);
  const time = actual.time.filter(known);
  const values = actual.values.map((advance, i) => wanted[i] - advance).filter(known);
  if (time.length < 2) return undefined;
  const series: Series = { time, values, rpm: engineSpeedAt(drive, time), rateHz: actual.rateHz };
  const inPulls = drive.pulls.flatMap((pull) => [...cutSeries(series, pull.startS, pull.endS).values]);
  if (inPulls.length < 4) return undefined;
  const stepDeg = Math.min(COARSEST_STEP_DEG, Math.max(actual.step, target.step));
  const noiseDeg = noiseOf(drive, series, stepDeg);
  const restDeg = knownLevel(quantile(inPulls, 0.1), noiseDeg);
  const isInPull = regimesAt(drive, actual.time).map((code) => (code === REGIME_CODE.pull ? 1 : 0));
  const pullSlopes = [...rateOfChange(actual.time, actual.values, 0.4, isInPull)].filter(Number.isFinite);
  const skewS = actual.time === target.time ? 0.25 / actual.rateHz : 0.5 / Math.min(actual.rateHz, target.rateHz);
  const skewDeg = pullSlopes.length > 0 ? median(pullSlopes.map(Math.abs)) * Math.min(1, skewS) : 0;
  return {
    ...series,
    values: values.map((value) => value - restDeg),
    basis: 'target-minus-actual',
    cylinder: undefined,
    label: 'the engine',
    restDeg,
    stepDeg,
    noiseDeg,
    thresholdDeg: thresholdOf(noiseDeg, stepDeg, skewDeg),
  };
}

const isFlat = (track: RetardTrack) => {
  const { values } = track;
  for (let i = 1, n = values.length; i < n; i++) if (values[i] !== values[0]) return false;
  return true;
};

/** Retard as logged: by cylinder, else for the engine, else target minus actual advance. */
export function retardTracks(drive: Drive, build: Build): RetardTracks {
  const notes: string[] = [];
  const cylinders: RetardTrack[] = [];
  for (let cylinder = 1; cylinder <= CYLINDERS; cylinder++) {
    const track = loggedTrack(drive, `knock_retard_${cylinder}` as ChannelId, cylinder);
    if (track) cylinders.push(track);
  }
  const engine = loggedTrack(drive, 'knock_retard', undefined);
  const signs = [...drive.recording.channels.values()]
    .filter((channel) => channel.id.startsWith('knock_retard'))
    .map(signQuestion)
    .filter((question) => question !== undefined);
  const complete = cylinders.length >= build.engine.cylinders;
  if (cylinders.length > 0) {
    if (!complete) {
      const named = cylinders.map((track) => track.cylinder).join(', ');
      notes.push(
        `Retard is logged for cylinder${cylinders.length === 1 ? '' : 's'} ${named} of ${build.engine.cylinders} only${engine ? ', and for the engine as a whole' : ''}.`,
      );
    }
    const withEngine = engine && (!complete || (cylinders.every(isFlat) && !isFlat(engine)));
    return { tracks: withEngine ? [...cylinders, engine] : cylinders, signs, notes };
  }
  if (engine) return { tracks: [engine], signs, notes };
  const target = targetTrack(drive);
  if (target) {
    notes.push(
      'No retard channel is logged: retard is inferred as target minus actual advance, so any intervention counts.',
    );
    return { tracks: [target], signs, notes };
  }
  return { tracks: [], signs, notes };
}
