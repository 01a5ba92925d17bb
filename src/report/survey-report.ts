import type { Analyser } from '../analysers/analyser.ts';
import type { Guess, GuessedMapping } from '../channels/guess-mapping.ts';
import type { Mapping } from '../channels/mapping-schema.ts';
import { isPersonalColumn } from '../channels/personal-column.ts';
import type { Channel, Recording } from '../channels/recording.ts';
import type { ColumnFacts } from '../channels/survey-column.ts';
import { channelFaults, columnFault } from '../channels/survey-faults.ts';
import type { Polling } from '../channels/survey-polling.ts';
import type { TimeHealth } from '../channels/survey-time.ts';
import type { Table } from '../read/table.ts';
import { mapTexts } from './map-texts.ts';
import { REMOVED, redactText } from './redact.ts';
import { roundMeasure, roundOrNull, roundTime } from './round.ts';
import { servedAnalysers, wantedChannels } from './survey-analysers.ts';
import type { Survey, SurveyColumn } from './survey-schema.ts';

export interface SurveyParts {
  readonly version: string;
  readonly file: string;
  readonly table: Table;
  readonly layout: 'wide' | 'long';
  readonly mapping: { readonly title: string; readonly guessed: boolean; readonly used: Mapping | undefined };
  readonly guessed: GuessedMapping | undefined;
  readonly recording: Recording | undefined;
  readonly columns: readonly ColumnFacts[];
  /** The unit of each mapped column as logged, and where it is from. */
  readonly units: ReadonlyMap<string, { readonly unit: string; readonly from: NonNullable<SurveyColumn['unitFrom']> }>;
  readonly time: TimeHealth | undefined;
  readonly polling: Polling;
  readonly personalColumns: number;
  readonly doubts: readonly string[];
  readonly notes: readonly string[];
  readonly analysers: readonly Analyser[];
}

/** Joins all that was seen in one log. */
export function surveyReport(parts: SurveyParts): Survey {
  const { table, guessed, recording, analysers } = parts;
  const { commentPrefix, ...dialect } = table.dialect;
  const present = new Set<string>(
    recording ? recording.channels.keys() : guessed?.guesses.map(({ channel }) => channel),
  );
  const survey: Survey = {
    pullgate: 'survey/1',
    tool: { name: 'pullgate', version: parts.version },
    log: {
      file: parts.file,
      sha256: table.sha256,
      bytes: table.bytes,
      rows: table.rowCount,
      firstDataLine: table.firstDataLine,
      layout: parts.layout,
      dialect: { ...dialect, ...(commentPrefix !== undefined && { commentPrefix }) },
    },
    mapping: { title: parts.mapping.title, guessed: parts.mapping.guessed },
    time: timeFacts(parts),
    columns: columnsOf(parts),
    personalColumns: parts.personalColumns,
    questions: guessed?.questions.map(({ ask }) => ask) ?? [],
    doubts: [...parts.doubts],
    analysers: servedAnalysers(analysers, present, recording),
    wanted: wantedChannels(analysers, present),
    notes: [...new Set([...parts.notes, ...table.notes])],
  };
  return mapTexts(survey, redactText);
}

function timeFacts({ mapping, guessed, time, polling }: SurveyParts): Survey['time'] {
  const guess = guessed?.guesses.find(({ channel }) => channel === 'time');
  const stated = mapping.used?.time;
  const column = stated && 'column' in stated ? stated.column : null;
  return {
    column: column !== null && isPersonalColumn(column) ? REMOVED : column,
    unit: (stated && 'unit' in stated ? stated.unit : undefined) ?? null,
    confidence: guess?.confidence ?? null,
    why: guess?.why ?? (stated && 'rate' in stated ? `${stated.rate} rows a second, as stated` : null),
    duration: time ? roundTime(time.durationS) : null,
    interval: roundOrNull(time?.intervalS),
    repeats: time?.repeats ?? 0,
    backward: time?.backward ?? 0,
    farthestBack: roundTime(time?.farthestBackS ?? 0),
    gaps: time?.gaps ?? 0,
    longestGap: roundTime(time?.longestGapS ?? 0),
    jitter: roundOrNull(time?.jitter),
    stretches: time?.stretches ?? 0,
    polling: { ...polling, roundRows: roundMeasure(polling.roundRows) },
    notes: [...(time?.notes ?? [])],
  };
}

function columnsOf(parts: SurveyParts): SurveyColumn[] {
  const channels = new Map([...(parts.recording?.channels.values() ?? [])].map((one) => [one.column, one]));
  const guesses = new Map(
    (parts.guessed?.guesses ?? []).filter(({ channel }) => channel !== 'time').map((guess) => [guess.column, guess]),
  );
  return parts.columns.map((facts) =>
    columnOf(
      parts.polling,
      facts,
      channels.get(facts.column),
      guesses.get(facts.column),
      parts.units.get(facts.column),
    ),
  );
}

type KnownUnit = SurveyParts['units'] extends ReadonlyMap<string, infer U> ? U : never;

/** States are words; a free text is counted, never shown, as it may tell who or where. */
const MOST_STATES = 8;

/** Where the logger polls in turn, a column whose values are too coarse to show the hold is refreshed once a round all the same. */
function trueRate(
  { kind, blank, roundRows }: Polling,
  facts: ColumnFacts,
  channel: Channel | undefined,
): number | undefined {
  const shown = channel?.rateHz ?? facts.rateHz;
  if (kind !== 'in turn' || blank || facts.rowRateHz === undefined || shown === undefined) return shown;
  return Math.min(shown, facts.rowRateHz / roundRows);
}

function columnOf(
  polling: Polling,
  facts: ColumnFacts,
  channel: Channel | undefined,
  guess: Guess | undefined,
  unit: KnownUnit | undefined,
): SurveyColumn {
  const own = columnFault(facts, channel?.id);
  const isShown = channel !== undefined && facts.labels.length <= MOST_STATES;
  return {
    column: isPersonalColumn(facts.column) ? REMOVED : facts.column,
    channel: channel?.id ?? guess?.channel ?? null,
    confidence: guess?.confidence ?? null,
    why: guess?.why ?? null,
    unit: unit?.unit ?? null,
    unitFrom: unit?.from ?? null,
    cells: facts.kind,
    rate: roundOrNull(trueRate(polling, facts, channel)),
    rowRate: roundOrNull(facts.rowRateHz),
    heldRows: roundMeasure(facts.heldRows),
    coverage: roundMeasure(facts.coverage),
    min: roundOrNull(facts.min),
    max: roundOrNull(facts.max),
    step: roundOrNull(facts.step),
    states: isShown ? [...facts.labels] : [],
    faults: [...(own ? [own] : []), ...(channel ? channelFaults(channel) : [])],
    trace: facts.trace.map((value) => (value === null ? null : Math.round(100 * value) / 100)),
  };
}
