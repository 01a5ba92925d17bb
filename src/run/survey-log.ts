import { ANALYSERS } from '../analysers/registry.ts';
import { columnsWanted, mappedChannels } from '../channels/columns-wanted.ts';
import { mayBeGuessed, shapeOf } from '../channels/guess-layout.ts';
import { type GuessedMapping, guessMapping } from '../channels/guess-mapping.ts';
import type { Mapping } from '../channels/mapping-schema.ts';
import { candidates } from '../channels/match-column.ts';
import { normalise } from '../channels/normalise.ts';
import { isPersonalColumn } from '../channels/personal-column.ts';
import { parseMapping } from '../channels/read-mapping.ts';
import type { Recording } from '../channels/recording.ts';
import { columnFacts } from '../channels/survey-column.ts';
import { paceOf, rawClock, timedColumns } from '../channels/survey-columns.ts';
import { pollingOf } from '../channels/survey-polling.ts';
import { timeHealth } from '../channels/survey-time.ts';
import { unitFacts } from '../channels/survey-unit.ts';
import { unitDoubts } from '../channels/unit-doubts.ts';
import { UserError } from '../kernel/user-error.ts';
import { readTable } from '../read/read-table.ts';
import type { Table } from '../read/table.ts';
import { surveyReport } from '../report/survey-report.ts';
import type { Survey } from '../report/survey-schema.ts';
import type { LogInput } from './log-input.ts';

export interface SurveyInput extends Pick<LogInput, 'name' | 'chunks' | 'mapping' | 'version'> {
  /** Rows per second, for a log without a time column. */
  readonly rateHz?: number | undefined;
}

/** What of a log could be understood; the reason where a step could not be taken. */
interface Understood {
  readonly mapping: Mapping | undefined;
  readonly guessed: GuessedMapping | undefined;
  readonly recording: Recording | undefined;
  readonly problems: string[];
}

/** A step whose failure the survey tells instead of ending on it. */
function attempt<T>(step: () => T, problems: string[]): T | undefined {
  try {
    return step();
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    problems.push(error.message);
    return undefined;
  }
}

/** Without a clock names can still be told; this rate is only for guessing and reaches no report. */
const NAMES_ONLY_HZ = 1;

function understand(
  table: Table,
  given: Mapping | undefined,
  names: readonly string[],
  rateHz: number | undefined,
): Understood {
  const problems: string[] = [];
  const guessed = given ? undefined : attempt(() => guessMapping(table, { rateHz }), problems);
  if (!given && !guessed) {
    const named = attempt(() => guessMapping(table, { rateHz: NAMES_ONLY_HZ }), []);
    return { mapping: undefined, guessed: named, recording: undefined, problems };
  }
  const mapping = given ?? guessed?.mapping;
  const recording = mapping && attempt(() => normalise(table, mapping, { columnNames: names }), problems);
  return { mapping, guessed, recording, problems };
}

/** Surveys one log: bytes in, findings out. Whatever can be said without a mapping or a clock is said without. */
export function surveyLog(input: SurveyInput): Survey {
  const { name, chunks, mapping: sheet, version } = input;
  const given = sheet && parseMapping(sheet.text, sheet.name);
  const wanted = given ? columnsWanted(given) : () => false;
  const all: string[] = [];
  const keep = (column: string) => {
    all.push(column);
    return mayBeGuessed(column) || wanted(column);
  };
  const table = readTable(
    { chunks, name },
    {
      keep,
      mayShow: (column) => !isPersonalColumn(column),
      dialect: given?.dialect,
      missing: given?.missing,
      timeByRow: input.rateHz !== undefined || (given !== undefined && 'rate' in given.time),
    },
  );
  const { mapping, guessed, recording, problems } = understand(table, given, all, input.rateHz);
  const shape = shapeOf(table);
  const mapped = new Set(mapping ? mappedChannels(mapping).map(([, { column }]) => column) : []);
  const extra = shape.long
    ? []
    : table.columns.filter((column) => isPersonalColumn(column.name) && mapped.has(column.name));
  const whole = { ...shape, columns: [...shape.columns, ...extra] };
  const clock = mapping && attempt(() => rawClock(table, mapping), problems);
  const timed = attempt(() => timedColumns(table, whole, mapping, clock), []) ?? timedColumns(table, whole);
  const asFound = new Map<string, string>(
    [...mapped].flatMap((column) => {
      const columnNames = whole.columns.map((one) => one.name);
      const [index] = candidates(column, columnNames);
      return index === undefined ? [] : [[column, columnNames[index]] as [string, string]];
    }),
  );
  const personal = all.filter(
    (column) => isPersonalColumn(column) && column !== shape.long?.name && !mapped.has(column),
  );
  return surveyReport({
    version,
    file: name,
    table,
    layout: shape.long ? 'long' : 'wide',
    mapping: {
      title: given ? (given.title ?? sheet?.name ?? 'mapping') : 'guessed from names, units and values',
      guessed: given === undefined,
      used: mapping,
    },
    guessed,
    recording,
    columns: timed.map(columnFacts),
    units: unitFacts(whole.columns, mapping, asFound, given === undefined),
    time: clock && attempt(() => timeHealth(paceOf(clock, shape)), []),
    polling: shape.long
      ? { kind: 'unknown', moving: 0, perRow: 0, blank: false, roundRows: 1 }
      : pollingOf(timed.map(({ column }) => column)),
    personalColumns: personal.length,
    doubts: recording ? unitDoubts(recording) : [],
    notes: [...problems, ...(guessed?.notes ?? []), ...(recording?.notes ?? [])],
    analysers: ANALYSERS,
  });
}
