import type { Build } from '../build-sheet/build.ts';
import { type CorrectionCell, type CorrectionField, correctionField } from '../drive/correction/cells.ts';
import type { Drive } from '../drive/drive.ts';
import type { RankedCause } from './causes/cause-schema.ts';
import { type Hold, holdsOf } from './correction-holds.ts';
import type { CorrectionReportCell, Corrections } from './corrections-schema.ts';
import type { AnalyserAnswer } from './report-schema.ts';
import { roundMeasure } from './round.ts';

/** Most that one iteration changes, %: the next log shows whether it went the right way. Taking fuel away under boost goes slower. */
const STEP = { more: 5, less: 5, lessAtFullLoad: 2.5, source: 'common practice, no source' } as const;
/** Below this an error is left alone, %. Common practice, no source. */
const LEAST_PERCENT = 2;

const CAUTION =
  'A proposal for a trained person, not a setting: mend mechanical faults first, change a copy of the calibration, one step at a time, and log again before the next pull. Wrong fuelling under boost destroys engines.';

function whyNone(cell: CorrectionCell, holds: readonly Hold[]): string | undefined {
  if (!cell.enough) return 'too little data';
  if (cell.low <= 1 && cell.high >= 1) return 'the interval includes no correction';
  if (Math.abs(cell.ratio - 1) * 100 < LEAST_PERCENT) return `within ${LEAST_PERCENT} %`;
  const way = cell.ratio > 1 ? 'more' : 'less';
  return holds.find((hold) => hold.source === cell.source && (hold.way === 'both' || hold.way === way))?.why;
}

function reported(cell: CorrectionCell, holds: readonly Hold[]): CorrectionReportCell {
  const { source, region, ratio, low, high, samples, seconds } = cell;
  const why = whyNone(cell, holds);
  const most = 1 + STEP.more / 100;
  const least = 1 - (source === 'full load' ? STEP.lessAtFullLoad : STEP.less) / 100;
  const factor = Math.min(most, Math.max(least, ratio));
  const percent = (value: number) => roundMeasure(100 * (value - 1));
  return {
    source,
    idle: region.idle,
    rpm: region.rpm ? [region.rpm[0], region.rpm[1]] : null,
    load: region.load ? [region.load[0], region.load[1]] : null,
    error: percent(ratio),
    low: percent(low),
    high: percent(high),
    samples: roundMeasure(samples),
    seconds: roundMeasure(seconds),
    factor: why === undefined ? Number(factor.toFixed(3)) : null,
    limited: why === undefined && factor !== ratio,
    ...(why !== undefined && { why }),
  };
}

/** Causes that a change of the calibration does mend. */
const CALIBRATION: readonly string[] = [
  'airflow-low',
  'airflow-high',
  'full-load-table',
  'idle-calibration',
  'fuel-constant-short',
  'fuel-constant-over',
  'fuel-blend',
];
const ABOUT_FUEL = /^(fuel-|mixture\.|injector-duty\.)/;

/** A fault in the car comes before its correction: named where it is the first cause of what the fuel side shows. */
function mendFirst(causes: readonly RankedCause[]): string[] {
  const first = causes.find(({ explains }) => explains.some((id) => ABOUT_FUEL.test(id)));
  if (!first || first.standing === 'unlikely' || CALIBRATION.includes(first.id)) return [];
  return [`Mend first what the calibration cannot: ${first.cause} (${first.standing}).`];
}

/** Suggested corrections of one log; nothing where it holds neither closed loop nor a full-load mixture to go by. */
export function correctionsOf(
  field: CorrectionField,
  answers: readonly Pick<AnalyserAnswer, 'findings'>[],
  causes: readonly RankedCause[],
): Corrections | undefined {
  if (field.cells.length === 0) return undefined;
  const holds = holdsOf(field, answers, causes);
  const sources = new Set(field.cells.map(({ source }) => source));
  return {
    axis: field.axis ? { name: field.axis.name, unit: field.axis.unit } : null,
    step: { ...STEP },
    cells: field.cells.map((cell) => reported(cell, holds)),
    notes: [
      ...mendFirst(causes),
      'Factor = fuel needed / fuel given: above 1 adds fuel. It multiplies the modelled airflow of the cell, or its fuel, not both.',
      ...(sources.has('closed loop')
        ? ['Closed loop: 1 + total trim, from steady warm running. Reset the learnt trims after a change.']
        : []),
      ...(sources.has('full load')
        ? [
            'Full load: measured over asked lambda, from 1.5 s after the start of a pull on. It comes on top of whatever trims the control unit applies there.',
          ]
        : []),
      `One iteration changes a cell by at most +${STEP.more} % and -${STEP.less} %, at full load -${STEP.lessAtFullLoad} % (${STEP.source}).`,
    ],
    caution: CAUTION,
  };
}

/** Analysers that have to have been asked before a source may be used: they know of the faults that hold it back. */
const ASKED_FIRST: readonly { readonly source: CorrectionCell['source']; readonly analysers: readonly string[] }[] = [
  { source: 'closed loop', analysers: ['fuel-trim'] },
  {
    source: 'full load',
    analysers: ['mixture', 'fuel-pressure', 'injector-duty', 'timing-pull', 'boost-creep', 'sensor-health'],
  },
];

/** Suggested corrections of a drive, from the sources whose faults this run has looked for. */
export function suggestedCorrections(
  drive: Drive,
  build: Build,
  answers: readonly AnalyserAnswer[],
  causes: readonly RankedCause[],
): Corrections | undefined {
  const asked = new Set(answers.map(({ id }) => id));
  const from = ASKED_FIRST.filter(({ analysers }) => analysers.every((id) => asked.has(id)));
  if (from.length === 0) return undefined;
  const field = correctionField(
    drive,
    build,
    from.map(({ source }) => source),
  );
  return correctionsOf(field, answers, causes);
}
