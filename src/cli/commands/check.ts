import { InvalidArgumentError, Option } from 'commander';
import { FORMATS, formatNamed } from '../../render/formats.ts';
import { FAIL_ON, type FailOn } from '../../report/gate.ts';
import type { OutputWord } from '../../run/outputs.ts';
import type { DefineCommand } from '../commands.ts';

/** Options of `check` as commander hands them over. */
export interface CheckOptions {
  readonly map?: string;
  readonly build?: string;
  readonly failOn: FailOn;
  readonly only?: readonly string[];
  readonly skip: readonly string[];
  readonly dtc?: string;
  readonly quiet: boolean;
  readonly color: boolean;
  readonly progress: boolean;
}

function list(value: string, before: readonly string[] = []): string[] {
  if (value.trimEnd().endsWith(',')) {
    throw new InvalidArgumentError('It ends with a comma: write the list without blanks, such as fuel-trim,mixture.');
  }
  const ids = value.split(',').map((id) => id.trim());
  return [...before, ...ids.filter(Boolean)];
}

export const defineCheck: DefineCommand = (program, io, exit) => {
  const words: OutputWord[] = [];
  const formats = FORMATS.map((format) => `${format.id} (${format.title})`).join(', ');
  program
    .command('check')
    .description('assess logs: files, folders (searched for *.csv), patterns, or - for standard input')
    .argument('<log...>', 'what to assess')
    .option(
      '-m, --map <file>',
      'mapping; left out: the nearest pullgate.map.json above the log, else columns are guessed',
    )
    .option('-b, --build <file>', 'build sheet; left out: the nearest pullgate.build.json above the log')
    .option('-f, --format <format>', `${formats}; repeatable, each with its --out`, (id) => {
      words.push({ format: formatNamed(id) });
      return id;
    })
    .option('-o, --out <path>', 'a file, or a folder for a file per log', (out) => {
      words.push({ out });
      return out;
    })
    .addOption(
      new Option('--fail-on <verdict>', 'close the gate from this verdict on').choices(FAIL_ON).default('fail'),
    )
    .option('--only <id,...>', 'run only these analysers', list)
    .option('--skip <id,...>', 'leave these analysers out', list, [])
    .option('--dtc <codes>', 'trouble codes read by hand, such as P0171,P0300; "none" where the memory was empty')
    .option('-q, --quiet', 'only the gate and what warns or fails', false)
    .option('--no-color', 'no colour')
    .option('--no-progress', 'no progress line')
    .action(async (logs: string[], options: CheckOptions) => {
      const { runCheck } = await import('../run-check.ts');
      exit(await runCheck(logs, options, words, io));
    });
};
