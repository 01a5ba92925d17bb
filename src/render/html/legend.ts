import type { TraceTrack } from '../../report/pull-traces.ts';
import { FIGURE_WIDTH, tenth, textWidth } from './figure-box.ts';
import { lineClass } from './line-class.ts';
import { html, type Markup, NOTHING } from './markup.ts';

const SAMPLE = 20;
const GAP = 10;
const MOST = 4;
/** Cylinders that stay below this all through are named together, deg. */
const QUIET_DEG = 0.5;

interface Entry {
  readonly text: string;
  readonly shape: string | undefined;
}

/** Samples of the lines with their names, set from the right. */
export function legend(track: TraceTrack, y: number): Markup {
  const entries = entriesOf(track);
  if (entries.length < 2) return NOTHING;
  const widths = entries.map(({ text, shape }) => textWidth(text) + (shape ? SAMPLE + 4 : 0) + GAP);
  let x = FIGURE_WIDTH - 8 - widths.reduce((sum, wide) => sum + wide, 0) + GAP;
  const marks = entries.map(({ text, shape }, i) => {
    const at = x;
    x += widths[i];
    const sample = shape ? html`<path class="${shape}" d="M${tenth(at)} ${y}h${SAMPLE}"/>` : NOTHING;
    return html`${sample}<text class="note" x="${tenth(at + (shape ? SAMPLE + 4 : 0))}" y="${y + 4}">${text}</text>`;
  });
  return html`<g class="legend">${marks}</g>`;
}

function entriesOf(track: TraceTrack): Entry[] {
  const lines = track.lines.map((line, i) => ({
    line,
    entry: { text: shortName(line.label), shape: lineClass(track, i) },
  }));
  const loud = lines.filter(({ line }) => !isQuiet(track, line.runs));
  const shown = loud.slice(0, MOST).map(({ entry }) => entry);
  const left = loud.length - shown.length;
  const quiet = lines.length - loud.length;
  return [
    ...shown,
    ...(left > 0 ? [{ text: `+${left}`, shape: undefined }] : []),
    ...(quiet > 0 ? [{ text: `${quiet === lines.length ? 'all' : `${quiet}`} quiet`, shape: undefined }] : []),
    ...track.levels.map(({ label, role }) => ({ text: label, shape: `level ${role}` })),
  ];
}

function isQuiet(track: TraceTrack, runs: TraceTrack['lines'][number]['runs']): boolean {
  return (
    track.id === 'retard' && track.lines.length > 1 && runs.every((run) => run.every(([, , deg]) => deg < QUIET_DEG))
  );
}

const shortName = (label: string) => label.replace(/^cylinder /, 'cyl. ').replace(/ line$/, '');
