import { ANALYSERS } from '../analysers/registry.ts';
import { parseTroubleCodes } from '../engine/trouble-code.ts';
import type { RenderStyle } from '../render/format.ts';
import { FORMATS } from '../render/formats.ts';
import { hasCrash } from '../report/answer.ts';
import { gateIsOpen } from '../report/gate.ts';
import { type Outcome, summarise } from '../report/summarise.ts';
import { checkLogs } from '../run/check-logs.ts';
import { findLogs } from '../run/find-logs.ts';
import { sheetFinder } from '../run/find-sheets.ts';
import { type OutputWord, planOutputs, prepareOutputs } from '../run/outputs.ts';
import { selectAnalysers } from '../run/select-analysers.ts';
import { openSinks } from '../run/sinks.ts';
import { colourLevel } from './colour-level.ts';
import type { CheckOptions } from './commands/check.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { printMessage } from './print-message.ts';
import { progressLine } from './progress-line.ts';
import { VERSION } from './version.ts';

const DEFAULT_WIDTH = 80;

export async function runCheck(
  args: readonly string[],
  options: CheckOptions,
  words: readonly OutputWord[],
  io: Io,
): Promise<ExitCode> {
  const analysers = selectAnalysers(ANALYSERS, options.only, options.skip);
  const codes = options.dtc === undefined ? [] : parseTroubleCodes(options.dtc, '--dtc');
  const outputs = planOutputs(words, FORMATS, io.cwd);
  prepareOutputs(outputs);
  const logs = await findLogs(args, io.cwd);
  const style: RenderStyle = {
    width: io.columns ?? (Number(io.env.COLUMNS) || DEFAULT_WIDTH),
    colour: colourLevel(io, options.color),
    failOn: options.failOn,
    quiet: options.quiet,
    several: logs.length > 1,
  };
  const sinks = await openSinks(outputs, style, io.out);
  const sheetsFor = sheetFinder({ map: options.map, build: options.build }, io.cwd);
  const progress = progressLine(io, options.progress && style.several, logs.length);
  const tellUnusable =
    !style.several || !outputs.some(({ format, to }) => format.id === 'terminal' && to.kind === 'stdout');

  const outcomes: Outcome[] = [];
  const traces = outputs.some(({ format }) => format.drawsTraces);
  for (const outcome of checkLogs(logs, { version: VERSION, sheetsFor, analysers, codes, traces })) {
    progress.clear();
    if ('unusable' in outcome && tellUnusable) printMessage(io, outcome.unusable.error);
    if (style.several || 'report' in outcome) for (const sink of sinks) await sink.each(outcome);
    outcomes.push('report' in outcome ? { report: outcome.report } : outcome);
    progress.show(outcomes.length);
  }
  progress.clear();
  const summary = summarise(outcomes);
  if (style.several || summary.reports.length > 0) for (const sink of sinks) await sink.end(summary);
  return exitCode(outcomes, options);
}

function exitCode(outcomes: readonly Outcome[], { failOn }: CheckOptions): ExitCode {
  if (outcomes.some((outcome) => 'unusable' in outcome || hasCrash(outcome.report))) return EXIT.failed;
  const open = outcomes.every((outcome) => 'report' in outcome && gateIsOpen(outcome.report.gate, failOn));
  return open ? EXIT.open : EXIT.closed;
}
