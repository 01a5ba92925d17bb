import { boldWidth, LANE, PLOT_LEFT, PLOT_RIGHT, tenth } from './figure-box.ts';
import type { FindingMark } from './finding-marks.ts';
import type { LinearScale, Range } from './linear-scale.ts';
import { html, type Markup } from './markup.ts';
import type { Across } from './visible-runs.ts';

const MOST_LANES = 3;
const LEAST_WIDTH = 3;

export interface LaneArea {
  readonly across: Across;
  readonly x: LinearScale;
  /** Top of the plot: the lanes end there. */
  readonly top: number;
  readonly bottom: number;
}

const labelsOf = (marks: readonly FindingMark[]) => [...new Set(marks.map(({ label }) => label))];

/** How many lines the findings of a plot take above it. */
export const laneCount = (marks: readonly FindingMark[]): number => Math.min(MOST_LANES, labelsOf(marks).length);

/** A line a finding: its name, and bars as far as it reaches. */
export function findingLanes(marks: readonly FindingMark[], area: LaneArea): Markup {
  const labels = labelsOf(marks);
  const shown = labels.slice(0, MOST_LANES);
  return html`${shown.map((label, i) => {
    const own = marks.filter((mark) => mark.label === label);
    const { verdict } = own[0];
    const spans = joined(own.map((mark) => reach(mark, area)));
    const left = labels.length - shown.length;
    const text = i === shown.length - 1 && left > 0 ? `${label} and ${left} more` : label;
    const from = tenth(Math.max(PLOT_LEFT, Math.min(spans[0][0], PLOT_RIGHT - boldWidth(text))));
    const y = area.top - (shown.length - i) * LANE;
    return html`<text class="told ${verdict}" x="${from}" y="${y + 9}">${text}</text><path class="reach ${verdict}" d="${spans.map(([a, b]) => `M${a} ${y + 13.5}H${b}`).join('')}"/>
`;
  })}`;
}

/** The shaded stretches of a plot, each once however many findings speak of it. */
export function stretches(marks: readonly FindingMark[], area: LaneArea): Markup {
  const { top, bottom } = area;
  return html`${(['warn', 'fail'] as const).map((verdict) => {
    const own = marks.filter((mark) => mark.verdict === verdict);
    return joined(own.map((mark) => reach(mark, area))).map(
      ([left, right]) =>
        html`<rect class="stretch ${verdict}" x="${left}" y="${top}" width="${tenth(right - left)}" height="${bottom - top}"/>`,
    );
  })}`;
}

/** From where to where on the plot, and never too narrow to be seen. */
function reach({ timeS, rpm }: FindingMark, { across, x }: LaneArea): Range {
  const [from, to] = across === 'time' ? timeS : rpm;
  const inside = (at: number) => Math.min(PLOT_RIGHT, Math.max(PLOT_LEFT, at));
  const [left, right] = [inside(x.at(from)), inside(x.at(to))];
  const missing = Math.max(0, LEAST_WIDTH - (right - left)) / 2;
  return [tenth(left - missing), tenth(right + missing)];
}

/** Stretches in order, those that touch as one. */
export function joined(spans: readonly Range[]): Range[] {
  const whole: [number, number][] = [];
  for (const [from, to] of spans.toSorted((a, b) => a[0] - b[0])) {
    const last = whole.at(-1);
    if (last && from <= last[1] + 1) last[1] = Math.max(last[1], to);
    else whole.push([from, to]);
  }
  return whole;
}
