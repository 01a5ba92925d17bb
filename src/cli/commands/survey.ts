import { InvalidArgumentError, Option } from 'commander';
import type { DefineCommand } from '../commands.ts';

/** Options of `survey` as commander hands them over. */
export interface SurveyOptions {
  readonly map?: string;
  readonly format: 'terminal' | 'json';
  readonly rate?: number;
  readonly color: boolean;
}

function rate(text: string): number {
  const value = Number(text);
  if (!(value > 0) || !Number.isFinite(value)) throw new InvalidArgumentError('It is a number of rows per second.');
  return value;
}

export const defineSurvey: DefineCommand = (program, io, exit) => {
  program
    .command('survey')
    .description('say what is in a log before trusting it: columns, units, true rates, time, what it can answer')
    .argument('<log>', 'a log, or - for standard input')
    .option('-m, --map <file>', 'mapping; left out: the nearest pullgate.map.json above the log, else guessed')
    .addOption(new Option('-f, --format <format>', 'how to print it').choices(['terminal', 'json']).default('terminal'))
    .option('--rate <hz>', 'rows per second, for a log without a time column', rate)
    .option('--no-color', 'no colour')
    .action(async (log: string, options: SurveyOptions) => {
      const { runSurvey } = await import('../run-survey.ts');
      exit(await runSurvey(log, options, io));
    });
};
