import type { PullTraces, TraceTrack, TrackId } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import { type Range, widened } from './linear-scale.ts';

export interface TrackLimit {
  readonly warn?: number | undefined;
  readonly fail?: number | undefined;
}

/** The measure whose limits belong into a picture. */
const MEASURE_OF: Readonly<Partial<Record<TrackId, string>>> = {
  duty: 'injector-duty.peak',
  mixture: 'mixture.lean-limit',
  retard: 'timing-pull.peak',
  charge: 'charge-temperature.peak',
};

export function trackLimit(report: Report, id: TrackId): TrackLimit {
  const measure = MEASURE_OF[id];
  const finding = report.analysers.flatMap(({ findings }) => findings).find((one) => one.id === measure && one.limit);
  return { warn: finding?.limit?.warn, fail: finding?.limit?.fail };
}

/** Least span, and values that are always in view. */
const FRAMES: Readonly<Record<TrackId, { readonly span: number; readonly show: readonly number[] }>> = {
  boost: { span: 20, show: [0] },
  duty: { span: 50, show: [0, 100] },
  mixture: { span: 0.1, show: [] },
  retard: { span: 4, show: [0] },
  charge: { span: 20, show: [] },
};
export const Y_TICKS = 4;
const HEADROOM = 0.12;
const LABEL_ROOM = 0.18;

/** Values from low to high over all pulls, so that pulls can be compared; a limit near the data is in view, and above there is room for labels. */
export function trackDomain(id: TrackId, pulls: readonly PullTraces[], limit: TrackLimit, labels = 0): Range {
  const tracks = pulls.flatMap((pull) =>
    pull.tracks.filter((track) => track.id === id).map((track) => ({ pull, track })),
  );
  const values = tracks.flatMap(({ pull, track }) => [
    ...insideValues(pull, track),
    ...track.levels.map(({ value }) => value),
  ]);
  const { span, show } = FRAMES[id];
  let [low, high] = extent([...values, ...show]);
  const near = Math.max(span, high - low);
  for (const one of [limit.warn, limit.fail]) {
    if (one !== undefined && one > high && one < high + near / 2) high = one;
  }
  if (high - low < span)
    [low, high] = show.length > 0 ? [low, low + span] : [(low + high - span) / 2, (low + high + span) / 2];
  // Room for what is written on the picture.
  return widened([low, high + Math.max(HEADROOM, LABEL_ROOM * labels) * (high - low)], Y_TICKS);
}

function insideValues({ startS }: PullTraces, { lines }: TraceTrack): number[] {
  return lines.flatMap(({ runs }) =>
    runs.flatMap((run) => run.filter(([timeS]) => timeS >= startS).map(([, , value]) => value)),
  );
}

function extent(values: readonly number[]): [number, number] {
  return values.reduce(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}
