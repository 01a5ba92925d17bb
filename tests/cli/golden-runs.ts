import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { runProgram } from './run-program.ts';

export const ROOT = resolve(import.meta.dirname, '../..');
export const GOLDEN = join(ROOT, 'tests/golden');

/** One expected output: a demo car's report in one format, as the program prints it into a pipe. */
export interface GoldenRun {
  readonly name: string;
  readonly args: readonly string[];
}

const FORMATS = { terminal: 'txt', json: 'json' } as const;
/** The formats of one car whose report has a bit of everything. */
const MORE = { markdown: 'md', junit: 'xml', csv: 'csv', ndjson: 'ndjson', html: 'html' } as const;
const CAR_OF_MORE = 'coupe-hand-set-boost';

/** Every demo car as text and JSON, one of them in every other format; all of them together end with the table of several logs. */
export function goldenRuns(): GoldenRun[] {
  const cars = readdirSync(join(ROOT, 'demo-logs'), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
  const one = cars.flatMap((car) =>
    Object.entries(car === CAR_OF_MORE ? { ...FORMATS, ...MORE } : FORMATS).map(([format, extension]) => ({
      name: `${car}.${extension}`,
      args: ['check', `demo-logs/${car}`, '-f', format],
    })),
  );
  return [...one, { name: 'all-quiet.txt', args: ['check', 'demo-logs', '--quiet'] }];
}

export function goldenOutput({ args }: GoldenRun): string {
  const { status, stdout, stderr } = runProgram(args, { cwd: ROOT });
  if (status === 2) throw new Error(`${args.join(' ')} ended 2: ${stderr}`);
  return stdout;
}
