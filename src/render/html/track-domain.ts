import type { PullTraces, TraceTrack, TrackId } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Range } from './linear-scale.ts';

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

/** Least span, values that are always in view, and the value at which the scale begins however low the line goes. */
const FRAMES: Readonly<
  Record<TrackId, { readonly span: number; readonly show: readonly number[]; readonly from?: number }>
> = {
  boost: { span: 20, show: [0], from: 0 },
  duty: { span: 50, show: [0, 100], from: 0 },
  mixture: { span: 0.1, show: [] },
  retard: { span: 4, show: [0], from: 0 },
  charge: { span: 20, show: [] },
};
const PAD = 0.06;

/** Values from low to high over all pulls, so that pulls can be compared; a limit near the data is in view. */
export function trackDomain(id: TrackId, pulls: readonly PullTraces[], limit: TrackLimit): Range {
  const values = pulls.flatMap((pull) =>
    pull.tracks
      .filter((track) => track.id === id)
      .flatMap((track) => [...framedValues(pull, track), ...track.levels.map(({ value }) => value)]),
  );
  const { span, show, from } = FRAMES[id];
  let [low, high] = extent([...values, ...show]);
  const near = Math.max(span, high - low);
  for (const one of [limit.warn, limit.fail]) {
    if (one !== undefined && one > high && one < high + near / 2) high = one;
  }
  if (from !== undefined && high > from) low = from;
  const missing = Math.max(0, span - (high - low));
  if (low === from) high += missing;
  else [low, high] = [low - missing / 2, high + missing / 2];
  const pad = PAD * (high - low);
  return [low === from ? low : low - pad, high + pad];
}

/** Mixture comes down from part load while boost rises; the scale is for what it does from half of the boost on. */
function framedValues(pull: PullTraces, { id, lines }: TraceTrack): number[] {
  const fromS = id === 'mixture' ? halfBoostS(pull) : pull.startS;
  const framed = valuesFrom(lines, fromS);
  return framed.length > 0 ? framed : valuesFrom(lines, pull.startS);
}

function valuesFrom(lines: TraceTrack['lines'], fromS: number): number[] {
  return lines.flatMap(({ runs }) =>
    runs.flatMap((run) => run.filter(([timeS]) => timeS >= fromS).map(([, , value]) => value)),
  );
}

function halfBoostS({ startS, tracks }: PullTraces): number {
  const boost = tracks.find(({ id }) => id === 'boost')?.lines.find(({ role }) => role === 'measured');
  const points = boost?.runs.flat().filter(([timeS]) => timeS >= startS) ?? [];
  const half = points.reduce((most, [, , value]) => Math.max(most, value), 0) / 2;
  return points.find(([, , value]) => half > 0 && value >= half)?.[0] ?? startS;
}

function extent(values: readonly number[]): [number, number] {
  return values.reduce(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}
