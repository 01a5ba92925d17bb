// Question: does closed loop have to correct the base fuelling, where, and is it moving?
// Total trim is the error of the model of air and fuel that open loop relies on at full load, seen where control still corrects it.
// Total trim of a bank = (1 + ST/100)(1 + LT/100) − 1; signs and scales: SAE J1979 (ISO 15031-5), positive = fuel is added.
import { limitOf } from '../build-sheet/limit.ts';
import type { ChannelId } from '../channels/catalogue.ts';
import type { Drive } from '../drive/drive.ts';
import { type TrimSurvey, totalTrim } from '../drive/trim/total-trim.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { bankSplitFinding } from './fuel-trim-bank-split.ts';
import { driftFinding } from './fuel-trim-drift.ts';
import { adaptationFindings, levelFinding } from './fuel-trim-level.ts';
import { cellTable, timeTable } from './fuel-trim-tables.ts';
import { keptOpen } from './kept-open.ts';
import { notAssessedFinding } from './wording.ts';

const TRIMS: readonly ChannelId[] = [
  'short_term_fuel_trim_1',
  'long_term_fuel_trim_1',
  'short_term_fuel_trim_2',
  'long_term_fuel_trim_2',
];
const SOURCE = 'common practice, no source';

const meta: AnalyserMeta = {
  id: 'fuel-trim',
  title: 'Fuel trim',
  question: 'Does closed loop have to correct the base fuelling, where, and is it moving?',
  needs: [['engine_speed'], TRIMS],
  helps: [
    'fuel_system_status',
    'coolant_temperature',
    'absolute_load',
    'calculated_load',
    'manifold_pressure',
    'throttle_position',
    'accelerator_position',
    'vehicle_speed',
    'lambda',
    'ethanol_content',
  ],
  formula:
    'total trim (%) = 100 × [(1 + short term (%)/100)(1 + long term (%)/100) − 1], per bank; level (%) = worst |median| of a cell of idle or engine speed × load; drift (%) = Theil–Sen slope within cells (%/s) × time (s); split (%) = bank 2 − bank 1 by cell',
  physics:
    'In closed loop the controller adds or takes away fuel until the lambda sensor reads stoichiometric, so the correction is the error of its model of air and fuel. ' +
    'At full load it runs in open loop on that same model with nothing to correct it. Where the error sits over load tells what is wrong: air that is not measured weighs most at idle, ' +
    'missing fuel delivery weighs most at high load, a wrong constant weighs the same everywhere.',
  limits: [
    { id: 'fuel-trim.level', title: 'Total trim, worst steady cell', unit: '%', warn: 8, fail: 15, source: SOURCE },
    {
      id: 'fuel-trim.drift',
      title: 'Change of total trim over the log, same operating region',
      unit: '%',
      warn: 5,
      fail: 10,
      source: SOURCE,
    },
    { id: 'fuel-trim.bank-split', title: 'Difference between banks', unit: '%', warn: 6, fail: 10, source: SOURCE },
  ],
  cannotSee: [
    'Full load: it runs in open loop, where trims are frozen or zero.',
    'Cells that were not visited warm and steady.',
    'An error of the lambda sensor itself: trims follow the sensor, right or wrong.',
    'Differences between cylinders of one bank.',
  ],
  cautions: [
    'A lean base fuelling is not corrected at full load and can destroy the engine: explain it before the next pull.',
    'Fuel and hot exhaust parts burn; relieve fuel pressure before opening a line.',
  ],
};

function unanswerable(why: string, needs: readonly string[], next: readonly string[]): Assessment {
  return {
    summary: why,
    findings: [notAssessedFinding('fuel-trim.level', 'Base fuelling could not be judged', why, next)],
    needs,
    tables: [],
  };
}

function summarise(survey: TrimSurvey, findings: readonly Finding[]): string {
  const level = findings[0];
  const shown = findings
    .filter((f) => f !== level && (f.verdict === 'warn' || f.verdict === 'fail'))
    .map((f) => f.title);
  const first = !level.measured
    ? `${level.title}: ${level.reasoning[0].replace(/\.$/, '')}`
    : level.verdict === 'pass'
      ? `Worst steady correction ${formatQuantity(level.measured.value, '%')} over ${survey.keptS.toFixed(0)} s of judged closed loop`
      : level.title;
  return `${[first, ...shown].join('. ')}.`;
}

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const { channels } = drive.recording;
  if (!TRIMS.some((id) => channels.has(id))) {
    return unanswerable(
      'No fuel trim is logged.',
      ['short_term_fuel_trim_1', 'long_term_fuel_trim_1'],
      ['Log short and long term fuel trim of every bank.'],
    );
  }
  if (!channels.has('engine_speed')) {
    return unanswerable(
      'Engine speed is not logged, so steady running cannot be told.',
      ['engine_speed'],
      ['Log engine speed.'],
    );
  }
  const survey = totalTrim(drive);
  if (survey.banks.length === 0) {
    return unanswerable(
      survey.grid.notes.join(' '),
      [...TRIMS.slice(0, 2)],
      ['Check the mapping of the trim columns, and whether closed loop corrections are switched on.'],
    );
  }
  const level = levelFinding(drive, build, survey, limitOf(limits, 'fuel-trim.level'));
  const findings = [
    level,
    driftFinding(survey, limitOf(limits, 'fuel-trim.drift')),
    bankSplitFinding(survey, limitOf(limits, 'fuel-trim.bank-split')),
    ...adaptationFindings(survey),
  ];
  const lacks = survey.banks.flatMap((bank) =>
    bank.parts === 'both' ? [] : [`${bank.parts === 'short' ? 'long' : 'short'}_term_fuel_trim_${bank.bank}`],
  );
  const needs = [...lacks, ...(survey.selection.loop.inferred ? ['fuel_system_status'] : [])];
  return {
    summary: summarise(survey, findings),
    findings: keptOpen(level, findings),
    needs: level.verdict === 'not-assessed' ? needs : lacks,
    tables: [cellTable(survey), timeTable(survey)],
  };
}

export const fuelTrim: Analyser = { meta, assess };
