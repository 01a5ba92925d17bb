import type { Build } from '../build-sheet/build.ts';
import { channelEntry } from '../channels/catalogue.ts';
import { chargeTemperatureId } from '../drive/airflow.ts';
import { alignedChannel } from '../drive/align.ts';
import { gaugeBoost } from '../drive/boost/gauge-boost.ts';
import { lineAt } from '../drive/boost/line.ts';
import { liveBoost } from '../drive/boost/live-boost.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { channelSeries, engineSpeedAt } from '../drive/channel-series.ts';
import { cleanTemperature } from '../drive/charge/clean.ts';
import type { Drive, Pull, Series } from '../drive/drive.ts';
import { injectorDutyOf } from '../drive/duty/choice.ts';
import { cleanLambda } from '../drive/mixture/samples.ts';
import { loggedTarget } from '../drive/mixture/target.ts';
import { retardOf } from '../drive/retard/series.ts';

export type TrackId = 'boost' | 'duty' | 'mixture' | 'retard' | 'charge';
export type LineRole = 'measured' | 'target' | 'settled';

/** Samples of one line, on its own time base. */
export interface SourceLine {
  readonly label: string;
  readonly role: LineRole;
  readonly series: Series;
}

/** A value that stands still: a target or ceiling of the build sheet. */
export interface TraceLevel {
  readonly label: string;
  readonly role: 'target' | 'ceiling';
  readonly value: number;
}

export interface SourceTrack {
  readonly id: TrackId;
  readonly title: string;
  readonly unit: string;
  readonly lines: readonly SourceLine[];
  readonly levels: readonly TraceLevel[];
}

type Tracks = (drive: Drive, build: Build, pull: Pull) => SourceTrack | undefined;

const measured = (label: string, series: Series): SourceLine => ({ label, role: 'measured', series });

function boostTrack(drive: Drive, build: Build, pull: Pull): SourceTrack | undefined {
  const judged = liveBoost(drive).find((one) => one.pull.id === pull.id);
  const boost = judged ? tracedBoost(judged) : plausibleBoost(drive);
  if (!boost) return undefined;
  const settled = judged && settledSeries(judged);
  const target = loggedBoostTarget(drive);
  const { targetKpa, ceilingKpa } = build.boost;
  return {
    id: 'boost',
    title: 'Boost',
    unit: 'kPa gauge',
    lines: [
      measured('boost', boost),
      ...(settled ? [{ label: 'settled line', role: 'settled' as const, series: settled }] : []),
      ...(target ? [{ label: 'target', role: 'target' as const, series: target }] : []),
    ],
    levels: [
      ...(targetKpa !== undefined && !target ? [{ label: 'target', role: 'target' as const, value: targetKpa }] : []),
      ...(ceilingKpa === undefined ? [] : [{ label: 'ceiling', role: 'ceiling' as const, value: ceilingKpa }]),
    ],
  };
}

const tracedBoost = ({ trace: { time, boost, rpm, rateHz } }: BoostPull): Series => ({
  time,
  values: boost,
  rpm,
  rateHz,
});

function plausibleBoost(drive: Drive): Series | undefined {
  const boost = gaugeBoost(drive);
  const manifold = drive.recording.channels.get('manifold_pressure');
  if (!boost || !manifold) return undefined;
  const [low, high] = channelEntry('manifold_pressure').plausible;
  return where(boost, (i) => manifold.values[i] >= low && manifold.values[i] <= high);
}

/** The robust line on which boost was judged, from settling on. */
function settledSeries({ trace, settled, unsettled }: BoostPull): Series | undefined {
  if (!settled || unsettled !== undefined) return undefined;
  const bendRpm = settled.bent ? (settled.line.endRpm + settled.last.startRpm) / 2 : Number.NEGATIVE_INFINITY;
  const line = trace.rpm.map((rpm) => lineAt(rpm < bendRpm ? settled.line : settled.last, rpm));
  return where({ ...trace, values: line }, (i) => trace.time[i] >= settled.settleS);
}

function loggedBoostTarget(drive: Drive): Series | undefined {
  const target = channelSeries(drive, 'manifold_pressure_target');
  if (!target) return undefined;
  const { kpa } = drive.recording.barometric;
  const barometric = alignedChannel(drive.recording, 'barometric_pressure', target.time);
  const at = (i: number) => (barometric && Number.isFinite(barometric[i]) ? barometric[i] : kpa);
  return { ...target, values: target.values.map((absolute, i) => absolute - at(i)) };
}

function dutyTrack(drive: Drive, build: Build): SourceTrack | undefined {
  const answer = injectorDutyOf(drive, build);
  if (answer.kind !== 'chosen') return undefined;
  const { duty, other } = answer.choice;
  const names = { 'pulse-width': 'duty from pulse width', logged: 'duty as logged', modelled: 'duty, modelled' };
  return {
    id: 'duty',
    title: 'Injector duty',
    unit: '%',
    lines: [measured(names[duty.source], duty.series), ...(other ? [measured(names[other.source], other.series)] : [])],
    levels: [],
  };
}

function mixtureTrack(drive: Drive, build: Build): SourceTrack | undefined {
  const clean = cleanLambda(drive);
  if (!clean) return undefined;
  const { time, values, rateHz } = clean;
  const target = loggedTarget(drive) === undefined ? undefined : channelSeries(drive, 'lambda_target');
  const sheet = build.fullLoadLambda;
  return {
    id: 'mixture',
    title: 'Mixture',
    unit: 'lambda',
    lines: [
      measured('lambda', { time, values, rpm: engineSpeedAt(drive, time), rateHz }),
      ...(target ? [{ label: 'target', role: 'target' as const, series: target }] : []),
    ],
    levels: !target && sheet !== undefined ? [{ label: 'target', role: 'target', value: sheet }] : [],
  };
}

function retardTrack(drive: Drive, build: Build): SourceTrack | undefined {
  const { tracks } = retardOf(drive, build);
  if (tracks.length === 0) return undefined;
  return {
    id: 'retard',
    title: 'Pulled timing',
    unit: 'deg',
    lines: tracks.map((track) => measured(track.label, track)),
    levels: [],
  };
}

function chargeTrack(drive: Drive): SourceTrack | undefined {
  const id = chargeTemperatureId(drive);
  const clean = id && cleanTemperature(drive, id);
  if (!clean) return undefined;
  const { time, values, rateHz } = clean;
  const series = { time, values, rpm: engineSpeedAt(drive, time), rateHz };
  return {
    id: 'charge',
    title: channelEntry(id).title,
    unit: 'degC',
    lines: [measured('temperature', series)],
    levels: [],
  };
}

/** The part of a series for which `keep` holds. */
function where(series: Series, keep: (i: number) => boolean): Series {
  const kept = (_: number, i: number) => keep(i);
  const { time, values, rpm, rateHz } = series;
  return { time: time.filter(kept), values: values.filter(kept), rpm: rpm.filter(kept), rateHz };
}

/** What to draw of a pull, top to bottom. */
export const TRACKS: readonly Tracks[] = [boostTrack, dutyTrack, mixtureTrack, retardTrack, chargeTrack];
