import type { Finding, Place } from '../../analysers/finding.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { graveFindings } from '../../report/key-findings.ts';
import type { PullTraces, TraceTrack, TrackId } from '../../report/pull-traces.ts';
import type { Report } from '../../report/report-schema.ts';
import { VERDICT_WORDS } from '../terminal/words.ts';
import type { Range } from './linear-scale.ts';

/** Which picture shows what an analyser found. */
const TRACK_OF: Readonly<Record<string, TrackId>> = {
  'boost-overshoot': 'boost',
  'boost-spike': 'boost',
  'boost-creep': 'boost',
  'boost-target': 'boost',
  'injector-duty': 'duty',
  mixture: 'mixture',
  'timing-pull': 'retard',
  'charge-temperature': 'charge',
};

/** A stretch of a pull that a finding speaks of. */
export interface FindingMark {
  readonly track: TrackId;
  readonly verdict: Finding['verdict'];
  readonly label: string;
  readonly timeS: Range;
  readonly rpm: Range;
}

/** Stretches to shade in a pull, the gravest finding first. */
export function findingMarks(report: Report, traces: PullTraces): FindingMark[] {
  return graveFindings(report).flatMap(({ answer, finding }) => {
    const track = TRACK_OF[answer.id];
    const drawn = traces.tracks.find(({ id }) => id === track);
    if (!drawn) return [];
    const value =
      inOnePull(finding) && finding.measured ? ` ${formatQuantity(finding.measured.value, finding.measured.unit)}` : '';
    const label = `${VERDICT_WORDS[finding.verdict]} ${finding.id}${value}`;
    return finding.where
      .filter(({ pull }) => pull === traces.pull)
      .map((place) => ({
        track,
        verdict: finding.verdict,
        label,
        timeS: [place.start, place.end] as const,
        rpm: rpmAt(drawn, place),
      }));
  });
}

/** Over several pulls the measured value belongs to one of them alone. */
const inOnePull = ({ where }: Finding) => new Set(where.map(({ pull }) => pull)).size < 2;

/** Grave findings of a pull that no picture shows. */
export function unshownFindings(report: Report, traces: PullTraces): Finding[] {
  return graveFindings(report)
    .filter(({ answer }) => !traces.tracks.some(({ id }) => id === TRACK_OF[answer.id]))
    .map(({ finding }) => finding)
    .filter(({ where }) => where.some(({ pull }) => pull === traces.pull));
}

/** Engine speeds that the track saw within a place, so that both pictures shade the same stretch; else those the finding names. */
function rpmAt({ lines }: TraceTrack, { start, end, rpm }: Place): Range {
  const points = lines[0].runs.flat();
  const inside = points.filter(([timeS]) => timeS >= start && timeS <= end);
  if (inside.length < 2 && rpm) return rpm;
  const nearest = points.toSorted((a, b) => Math.abs(a[0] - start) - Math.abs(b[0] - start)).slice(0, 1);
  const speeds = (inside.length > 0 ? inside : nearest).map(([, speed]) => speed);
  return [Math.min(...speeds, ...(rpm ?? [])), Math.max(...speeds, ...(rpm ?? []))];
}
