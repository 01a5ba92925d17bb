import { ANALYSERS } from '../analysers/registry.ts';
import { parseTroubleCodes } from '../engine/trouble-code.ts';
import type { RenderStyle } from '../render/format.ts';
import { FORMATS } from '../render/formats.ts';
import { hasCrash } from '../report/answer.ts';
import { gateIsOpen } from '../report/gate.ts';
import { redactText } from '../report/redact.ts';
import { type Outcome, summarise } from '../report/summarise.ts';
import { checkLogs } from '../run/check-logs.ts';
import { findLogs } from '../run/find-logs.ts';
import { sheetFinder } from '../run/find-sheets.ts';
import { refuseClashes } from '../run/output-clashes.ts';
import { type OutputWord, planOutputs, prepareOutputs } from '../run/outputs.ts';
import { selectAnalysers } from '../run/select-analysers.ts';
import { openSinks } from '../run/sinks.ts';
import { colourLevel } from './colour-level.ts';
import type { CheckOptions } from './commands/check.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { printMessage } from './print-message.ts';
import { progressLine } from './progress-line.ts';
import { VERSION } from './version.ts';
import { wantsAscii } from './wants-ascii.ts';

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
  const logs = await findLogs(args, io.cwd);
  const sheets = { map: options.map, build: options.build };
  refuseClashes(outputs, logs, sheets, io.cwd);
  prepareOutputs(outputs);
  const style: RenderStyle = {
    width: io.columns ?? (Number(io.env.COLUMNS) || DEFAULT_WIDTH),
    colour: colourLevel(io, options.color),
    failOn: options.failOn,
    quiet: options.quiet,
    ascii: wantsAscii(io.env),
    several: logs.length > 1,
  };
  const shownLogs = logs.map(({ shown }) => redactText(shown));
  const sinks = await openSinks(outputs, style, io.out, shownLogs);
  const sheetsFor = sheetFinder(sheets, io.cwd);
  const progress = progressLine(io, options.progress && style.several, logs.length);
  const tellUnusable =
    !style.several || !outputs.some(({ format, to }) => format.id === 'terminal' && to.kind === 'stdout');

  const outcomes: Outcome[] = [];
  const traces = outputs.some(({ format }) => format.drawsTraces);
  const courses = !style.quiet && outputs.some(({ format }) => format.drawsCourses);
  for (const outcome of checkLogs(logs, { version: VERSION, sheetsFor, analysers, codes, traces, courses })) {
    progress.clear();
    if ('unusable' in outcome && tellUnusable) printMessage(io, outcome.unusable.error);
    for (const sink of sinks) await sink.each(outcome);
    outcomes.push('report' in outcome ? { report: outcome.report } : outcome);
    progress.show(outcomes.length);
  }
  progress.clear();
  const summary = summarise(outcomes);
  for (const sink of sinks) await sink.end(summary);
  return exitCode(outcomes, options);
}

function exitCode(outcomes: readonly Outcome[], { failOn }: CheckOptions): ExitCode {
  if (outcomes.some((outcome) => 'unusable' in outcome || hasCrash(outcome.report))) return EXIT.failed;
  const open = outcomes.every((outcome) => 'report' in outcome && gateIsOpen(outcome.report.gate, failOn));
  return open ? EXIT.open : EXIT.closed;
}
