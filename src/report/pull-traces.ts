import type { Build } from '../build-sheet/build.ts';
import type { Drive, Pull, Series } from '../drive/drive.ts';
import { cutSeries } from '../drive/pull-series.ts';
import { runsWithoutGaps, type TracePoint, thinLine } from './thin-line.ts';
import { type LineRole, type SourceLine, TRACKS, type TraceLevel, type TrackId } from './trace-tracks.ts';

export type { TracePoint } from './thin-line.ts';
export type { TraceLevel, TrackId } from './trace-tracks.ts';

export interface TraceLine {
  readonly label: string;
  readonly role: LineRole;
  /** Stretches without a gap. */
  readonly runs: readonly (readonly TracePoint[])[];
}

export interface TraceTrack {
  readonly id: TrackId;
  readonly title: string;
  readonly unit: string;
  readonly lines: readonly TraceLine[];
  readonly levels: readonly TraceLevel[];
}

/** What to draw of one pull: plain data, to be carried beside the report and not inside it. */
export interface PullTraces {
  readonly pull: number;
  readonly startS: number;
  readonly endS: number;
  readonly tracks: readonly TraceTrack[];
}

/** The climb of boost before full load is part of the picture, s. */
const BEFORE_S = 1;
/** Points of one line, and of each line of a pull among many, so that a long log stays drawable. */
const MOST_POINTS = 400;
const MOST_POINTS_OF_A_LINE_OVER_ALL_PULLS = 2400;
const LEAST_POINTS = 60;
const LONGEST_GAP_S = 1;

/** Traces of every pull, thinned to what a page can show. */
export function pullTraces(drive: Drive, build: Build): PullTraces[] {
  const share = Math.floor(MOST_POINTS_OF_A_LINE_OVER_ALL_PULLS / Math.max(1, drive.pulls.length));
  const most = Math.max(LEAST_POINTS, Math.min(MOST_POINTS, share));
  return drive.pulls.map((pull) => ({
    pull: pull.id,
    startS: round(pull.startS, 3),
    endS: round(pull.endS, 3),
    tracks: TRACKS.flatMap((trackOf) => {
      const track = attempt(() => trackOf(drive, build, pull));
      if (!track) return [];
      const lines = track.lines.map((line) => drawn(line, pull, most)).filter(({ runs }) => runs.length > 0);
      return lines.some(({ role }) => role === 'measured') ? [{ ...track, lines }] : [];
    }),
  }));
}

/** A fault in what an analyser measures is told by that analyser; here it costs its picture alone. */
function attempt<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch {
    return undefined;
  }
}

function drawn({ label, role, series }: SourceLine, { startS, endS }: Pull, most: number): TraceLine {
  const points = pointsOf(cutSeries(series, startS - BEFORE_S, endS));
  const gapS = Math.max(LONGEST_GAP_S, series.rateHz > 0 ? 3 / series.rateHz : 0);
  const share = most / Math.max(1, points.length);
  const runs = runsWithoutGaps(points, gapS).map((run) =>
    thinLine(run, points.length <= most ? run.length : Math.max(4, Math.floor(share * run.length))),
  );
  return { label, role, runs };
}

function pointsOf({ time, rpm, values }: Series): TracePoint[] {
  const points: TracePoint[] = [];
  for (let i = 0; i < time.length; i++) {
    if (Number.isFinite(values[i]) && Number.isFinite(rpm[i])) {
      points.push([round(time[i], 3), round(rpm[i], 0), Number(values[i].toPrecision(5))]);
    }
  }
  return points;
}

const round = (value: number, decimals: number) => Number(value.toFixed(decimals)) + 0;
