import { renderSurvey } from '../render/terminal/render-survey.ts';
import { findMapping } from '../run/find-mapping.ts';
import { surveyLog } from '../run/survey-log.ts';
import { colourLevel } from './colour-level.ts';
import type { SurveyOptions } from './commands/survey.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { chunksOf, findOneLog, withLog } from './one-log.ts';
import { VERSION } from './version.ts';
import { wantsAscii } from './wants-ascii.ts';

const DEFAULT_WIDTH = 80;

/** Says what is in a log. */
export async function runSurvey(argument: string, options: SurveyOptions, io: Io): Promise<ExitCode> {
  const log = await findOneLog(argument, io.cwd);
  const mapping = findMapping(options.map, log, io.cwd);
  const survey = withLog(log.shown, () =>
    surveyLog({ name: log.shown, chunks: chunksOf(log), mapping, version: VERSION, rateHz: options.rate }),
  );
  if (options.format === 'json') {
    io.out(`${JSON.stringify(survey, null, 2)}\n`);
    return EXIT.open;
  }
  const width = io.columns ?? (Number(io.env.COLUMNS) || DEFAULT_WIDTH);
  io.out(await renderSurvey(survey, { width, colour: colourLevel(io, options.color), ascii: wantsAscii(io.env) }));
  return EXIT.open;
}
