import type { Verdict } from '../analysers/finding.ts';
import type { Build } from '../build-sheet/build.ts';
import { channelEntry } from '../channels/catalogue.ts';
import { gaugeBoost } from '../drive/boost/gauge-boost.ts';
import { liveBoost } from '../drive/boost/live-boost.ts';
import type { Drive, Pull, Series } from '../drive/drive.ts';
import { injectorDutyOf } from '../drive/duty/choice.ts';
import { indexAtOrAfter } from '../drive/pull-series.ts';
import { retardOf } from '../drive/retard/series.ts';
import { graveFindings } from './key-findings.ts';
import type { Report } from './report-schema.ts';

export type CourseId = 'boost' | 'duty' | 'retard';

/** A quantity over engine speed in one pull: the highest value in each band, NaN where the log has none. */
export interface Course {
  readonly id: CourseId;
  readonly values: Float64Array;
}

/** Where an analyser warns or fails in a pull. */
export interface CourseMark {
  readonly analyser: string;
  readonly title: string;
  readonly verdict: Verdict;
  readonly rpm: readonly (readonly [number, number])[];
}

export interface PullCourse {
  readonly pull: number;
  readonly courses: readonly Course[];
  readonly marks: readonly CourseMark[];
}

/** Pulls in which something warns or fails, over one scale of engine speed; plain data beside the report. */
export interface PullCourses {
  /** Engine speed at the left end, rpm, and per band. */
  readonly fromRpm: number;
  readonly bandRpm: number;
  readonly pulls: readonly PullCourse[];
  /** Marked pulls beyond those that are carried here. */
  readonly left: number;
}

const BAND_RPM = 50;
const MOST_PULLS = 4;
/** Values further apart than this are not joined, s; nor those three steps of a slower channel apart. */
const LONGEST_GAP_S = 1;

/** What a narrow screen can show of the pulls in which something was found; undefined where that is nothing. */
export function pullCourses(drive: Drive, build: Build, report: Pick<Report, 'analysers'>): PullCourses | undefined {
  const marked = drive.pulls.flatMap((pull) => {
    const marks = marksIn(report, drive, pull);
    return marks.length > 0 ? [{ pull, marks }] : [];
  });
  const gravest = [...marked.filter(fails), ...marked.filter((one) => !fails(one))].slice(0, MOST_PULLS);
  const [fromRpm, toRpm] = speedRange(gravest.map(({ pull }) => extremeSpeeds(drive, pull)));
  const bands = Math.ceil((toRpm - fromRpm) / BAND_RPM);
  if (!(bands > 0)) return undefined;
  const pulls = marked
    .filter((one) => gravest.includes(one))
    .map(({ pull, marks }) => ({
      pull: pull.id,
      marks,
      courses: COURSES.flatMap(([id, sourcesOf]): Course[] => {
        const values = new Float64Array(bands).fill(Number.NaN);
        for (const series of attempt(() => sourcesOf(drive, build, pull)) ?? []) {
          raise(values, series, pull, fromRpm);
        }
        return values.some(Number.isFinite) ? [{ id, values }] : [];
      }),
    }))
    .filter(({ courses }) => courses.length > 0);
  return pulls.length === 0 ? undefined : { fromRpm, bandRpm: BAND_RPM, pulls, left: marked.length - gravest.length };
}

const fails = ({ marks }: { readonly marks: readonly CourseMark[] }) => marks.some(({ verdict }) => verdict === 'fail');

/** A fault in what an analyser measures is told by that analyser; here it costs its line alone. */
function attempt<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch {
    return undefined;
  }
}

/** One mark an analyser, by the gravest of its findings in the pull. */
function marksIn(report: Pick<Report, 'analysers'>, drive: Drive, pull: Pull): CourseMark[] {
  const marks = new Map<string, CourseMark>();
  for (const { answer, finding } of graveFindings(report)) {
    const places = finding.where.filter((place) => place.pull === pull.id);
    const known = marks.get(answer.id);
    if (places.length === 0 || (known && known.verdict !== finding.verdict)) continue;
    const rpm = places.map((place) => place.rpm ?? extremeSpeeds(drive, { startS: place.start, endS: place.end }));
    marks.set(answer.id, {
      analyser: answer.id,
      title: answer.title,
      verdict: finding.verdict,
      rpm: [...(known?.rpm ?? []), ...rpm],
    });
  }
  return [...marks.values()];
}

/** Lowest and highest engine speed of a stretch, or that of the first sample after it, rpm. */
function extremeSpeeds(drive: Drive, { startS, endS }: Pick<Pull, 'startS' | 'endS'>): readonly [number, number] {
  const { time, engineSpeed } = drive;
  const first = indexAtOrAfter(time, startS);
  let [low, high] = [engineSpeed[first], engineSpeed[first]];
  for (let i = first + 1; i < time.length && time[i] <= endS; i++) {
    if (engineSpeed[i] < low) low = engineSpeed[i];
    if (engineSpeed[i] > high) high = engineSpeed[i];
  }
  return [low, high];
}

function speedRange(ranges: readonly (readonly [number, number])[]): [number, number] {
  const low = Math.min(...ranges.map(([from]) => from));
  const high = Math.max(...ranges.map(([, to]) => to));
  return [Math.floor(low / BAND_RPM) * BAND_RPM, Math.ceil(high / BAND_RPM) * BAND_RPM];
}

type Sources = (drive: Drive, build: Build, pull: Pull) => readonly Series[];

const COURSES: readonly (readonly [CourseId, Sources])[] = [
  ['boost', boostOf],
  ['duty', dutyOf],
  ['retard', (drive, build) => retardOf(drive, build).tracks],
];

/** As boost was judged; in a pull that was not, what the sensor can have meant. */
function boostOf(drive: Drive, _build: Build, pull: Pull): Series[] {
  const judged = liveBoost(drive).find((one) => one.pull.id === pull.id);
  if (judged) {
    const { time, boost, rpm, rateHz } = judged.trace;
    return [{ time, values: boost, rpm, rateHz }];
  }
  const boost = gaugeBoost(drive);
  if (!boost) return [];
  const [low, high] = channelEntry('manifold_pressure').plausible;
  const { kpa } = drive.recording.barometric;
  return [{ ...boost, values: boost.values.map((value) => (value + kpa >= low && value + kpa <= high ? value : NaN)) }];
}

function dutyOf(drive: Drive, build: Build): Series[] {
  const answer = injectorDutyOf(drive, build);
  return answer.kind === 'chosen' ? [answer.choice.duty.series] : [];
}

/** Lifts each band to the highest value that the pull has in it, along straight lines from sample to sample. */
function raise(values: Float64Array, series: Series, { startS, endS }: Pull, fromRpm: number): void {
  const { time, rpm, rateHz } = series;
  const gapS = Math.max(LONGEST_GAP_S, rateHz > 0 ? 3 / rateHz : 0);
  const bandOf = (speed: number) => Math.max(0, Math.min(values.length - 1, Math.floor((speed - fromRpm) / BAND_RPM)));
  let last = -1;
  for (let i = indexAtOrAfter(time, startS); i < time.length && time[i] <= endS; i++) {
    if (!Number.isFinite(series.values[i]) || !Number.isFinite(rpm[i])) continue;
    const joined = last >= 0 && time[i] - time[last] <= gapS ? last : i;
    const [from, to] = [bandOf(rpm[joined]), bandOf(rpm[i])];
    const step = to < from ? -1 : 1;
    for (let band = from; band !== to + step; band += step) {
      const share = band === to ? 1 : (band - from) / (to - from);
      const value = series.values[joined] + share * (series.values[i] - series.values[joined]);
      if (!(values[band] >= value)) values[band] = value;
    }
    last = i;
  }
}
