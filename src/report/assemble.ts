import type { Build } from '../build-sheet/build.ts';
import type { LimitTable } from '../build-sheet/limit.ts';
import { channelEntry } from '../channels/catalogue.ts';
import { isPersonalColumn } from '../channels/personal-column.ts';
import { liveBoost } from '../drive/boost/live-boost.ts';
import type { Drive, Pull } from '../drive/drive.ts';
import type { Table } from '../read/table.ts';
import type { RankedCause } from './causes/cause-schema.ts';
import { STANDING_CAUTIONS } from './cautions.ts';
import type { Corrections } from './corrections-schema.ts';
import { openItems, requiredOpen, rollUpGate } from './gate.ts';
import { handbackFacts } from './handback-record.ts';
import { mapTexts } from './map-texts.ts';
import type { NextStepReport } from './next-step-schema.ts';
import { REMOVED, redactText } from './redact.ts';
import type { AnalyserAnswer, Report, RequiredOpen } from './report-schema.ts';
import { roundMeasure, roundOrNull, roundRpm, roundTime } from './round.ts';

interface Source {
  readonly title: string;
  readonly sha256: string;
}

export interface ReportParts {
  readonly version: string;
  /** As shown to people: never an absolute path. */
  readonly file: string;
  readonly table: Table;
  readonly mapping: Source & { readonly guessed: boolean; readonly notes: readonly string[] };
  readonly buildSource: Source;
  readonly build: Build;
  readonly drive: Drive;
  readonly answers: readonly AnalyserAnswer[];
  readonly analyserCautions: readonly string[];
  readonly limits?: LimitTable;
  readonly causes?: readonly RankedCause[];
  readonly corrections?: Corrections | undefined;
  readonly nextStep?: NextStepReport | undefined;
  readonly faults?: readonly string[];
}

/** Joins all that was found about one log into its report. */
export function assembleReport(parts: ReportParts): Report {
  const { answers, build, drive, causes = [], corrections, limits, nextStep, faults = [] } = parts;
  const gate = rollUpGate(answers, build.required, build.handback);
  const unanswered = requiredOpen(answers, build.required);
  const report: Report = {
    pullgate: 'report/1',
    tool: { name: 'pullgate', version: parts.version },
    log: logFacts(parts.file, parts.table, drive),
    mapping: { title: parts.mapping.title, sha256: parts.mapping.sha256, guessed: parts.mapping.guessed },
    build: { title: parts.buildSource.title, sha256: parts.buildSource.sha256 },
    channels: channelFacts(drive),
    pulls: drive.pulls.map((pull) => pullFacts(pull, settledLevel(drive, pull))),
    gate,
    analysers: [...answers],
    ...(unanswered.length > 0 && { requiredOpen: unanswered }),
    ...(causes.length > 0 && { causes: [...causes] }),
    ...(corrections && { corrections }),
    ...(nextStep && { nextStep: heldBack(nextStep, answers) }),
    ...(faults.length > 0 && { faults: [...faults] }),
    handback: build.handback.map(({ item, done }) => ({ item, done })),
    ...(build.handback.length > 0 && limits && { handbackRecord: handbackFacts(build, limits) }),
    notes: unique([
      ...faults,
      ...parts.mapping.notes,
      ...requiredNotes(unanswered, answers),
      ...handbackNotes(build),
      ...backgroundNotes(parts),
    ]),
    cautions: unique([...STANDING_CAUTIONS, ...parts.analyserCautions]),
  };
  return mapTexts(report, redactText);
}

function logFacts(file: string, table: Table, drive: Drive): Report['log'] {
  const { commentPrefix, ...dialect } = table.dialect;
  return {
    file,
    sha256: table.sha256,
    bytes: table.bytes,
    rows: table.rowCount,
    duration: roundTime(drive.recording.durationS),
    dialect: { ...dialect, ...(commentPrefix !== undefined && { commentPrefix }) },
  };
}

function channelFacts(drive: Drive): Report['channels'] {
  return [...drive.recording.channels.values()].map((channel) => ({
    id: channel.id,
    column: isPersonalColumn(channel.column) ? REMOVED : channel.column,
    unit: channelEntry(channel.id).unit,
    rate: roundOrNull(channel.rateHz),
    coverage: roundMeasure(channel.coverage),
    min: roundOrNull(channel.min),
    max: roundOrNull(channel.max),
    notes: [...channel.notes],
  }));
}

function pullFacts(pull: Pull, settledBoostKpa: number | undefined): Report['pulls'][number] {
  return {
    id: pull.id,
    start: roundTime(pull.startS),
    end: roundTime(pull.endS),
    rpm: roundRpm(pull.rpm),
    gear: pull.gear ?? null,
    settledBoost: roundOrNull(settledBoostKpa),
    usable: pull.usable,
    notes: unique([...pull.notes, ...unfitNotes(pull)]),
  };
}

/** kPa gauge; undefined where boost never settled or cannot be judged. */
function settledLevel(drive: Drive, pull: Pull): number | undefined {
  const boost = liveBoost(drive).find((measured) => measured.pull.id === pull.id);
  return boost?.unsettled === undefined ? boost?.settled?.levelKpa : undefined;
}

function unfitNotes(pull: Pull): string[] {
  return Object.entries(pull.fitness).flatMap(([purpose, fitness]) =>
    fitness.ok ? [] : [`Not usable for ${purpose}: ${fitness.why}.`],
  );
}

/** A step of boost waits while anything fails, whatever the projections say. */
function heldBack(step: NextStepReport, answers: readonly AnalyserAnswer[]): NextStepReport {
  const failing = answers.filter(({ verdict }) => verdict === 'fail').map(({ title }) => title);
  if (failing.length === 0) return step;
  const hold = `Not before what fails is mended and logged again: ${failing.join(', ')}. The figures are for planning.`;
  return { ...step, hold };
}

function requiredNotes(unanswered: readonly RequiredOpen[], answers: readonly AnalyserAnswer[]): string[] {
  return unanswered.map(({ id }) =>
    answers.some((answer) => answer.id === id)
      ? `The build sheet requires an answer from ${id}, and this log gives none.`
      : `The build sheet requires an answer from ${id}, and this run left it out.`,
  );
}

function handbackNotes({ handback }: Build): string[] {
  return openItems(handback).map(({ item }) => `The handback list of the build sheet is open: ${item}.`);
}

function backgroundNotes({ table, drive }: ReportParts): string[] {
  return [drive.recording.barometric.note, ...drive.recording.notes, ...drive.notes, ...table.notes];
}

function unique(texts: readonly string[]): string[] {
  return [...new Set(texts)];
}
