import { readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { compareText } from '../kernel/compare-text.ts';
import { UserError } from '../kernel/user-error.ts';
import { fileError } from './file-error.ts';
import { isLogName } from './log-name.ts';
import { missingPath, noLogsIn } from './missing-path.ts';
import { shownPath } from './shown-path.ts';

/** A log to assess, or what stands in its place where an argument leads to none. */
export type LogSource =
  | { readonly kind: 'file'; readonly path: string; readonly shown: string }
  | { readonly kind: 'stdin'; readonly shown: string }
  | { readonly kind: 'none'; readonly shown: string; readonly error: UserError };

export const STDIN = '-';

/** Files, folders (searched for *.csv), globs and `-`, in the order given, each log once. */
export async function findLogs(args: readonly string[], cwd: string): Promise<LogSource[]> {
  const sources: LogSource[] = [];
  for (const arg of args) sources.push(...(await logsOf(arg, cwd)));
  const seen = new Set<string>();
  return sources.filter((source) => {
    const key = source.kind === 'file' ? source.path : `${source.kind} ${source.shown}`;
    return !seen.has(key) && seen.add(key);
  });
}

async function logsOf(arg: string, cwd: string): Promise<LogSource[]> {
  if (arg.trim() === '') {
    throw new UserError(
      'an empty name was given for a log.',
      undefined,
      'Name a log, a folder, a pattern, or - for standard input.',
    );
  }
  if (arg === STDIN) return [{ kind: 'stdin', shown: 'standard input' }];
  const path = resolve(cwd, arg);
  const shown = shownPath(arg, cwd);
  try {
    if (!statSync(path).isDirectory()) return [{ kind: 'file', path, shown }];
    const found = csvFilesIn(path).map((inside) => fileSource(path, arg, inside, cwd));
    return found.length > 0 ? found : [refused(shown, noLogsIn(path, shown))];
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      return /[*?[{(!]/.test(arg) ? globbed(arg, cwd) : [refused(shown, missingPath(arg, cwd))];
    const told = fileError(error, shown);
    if (told instanceof UserError) return [refused(shown, told)];
    throw error;
  }
}

function fileSource(folder: string, arg: string, inside: string, cwd: string): LogSource {
  return { kind: 'file', path: join(folder, inside), shown: shownPath(join(arg, inside), cwd) };
}

/** Paths below `folder`, in code-unit order; hidden folders, installed packages and linked folders are not entered, and our own CSV reports are no logs. */
function csvFilesIn(folder: string, below = ''): string[] {
  return readdirSync(join(folder, below), { withFileTypes: true })
    .sort((a, b) => compareText(a.name, b.name))
    .flatMap((entry) => {
      const inside = join(below, entry.name);
      if (entry.isDirectory()) {
        return entry.name.startsWith('.') || entry.name === 'node_modules' ? [] : csvFilesIn(folder, inside);
      }
      return isLogName(entry.name) && !entry.name.startsWith('.') ? [inside] : [];
    });
}

async function globbed(pattern: string, cwd: string): Promise<LogSource[]> {
  const { globSync } = await import('tinyglobby');
  const found = globSync([pattern], { cwd, onlyFiles: true, expandDirectories: false }).sort(compareText);
  if (found.length === 0)
    return [
      refused(
        pattern,
        new UserError(
          'no file matches this pattern.',
          pattern,
          'Check the pattern; quote it so that the shell leaves it alone.',
        ),
      ),
    ];
  return found.map((file) => ({ kind: 'file', path: resolve(cwd, file), shown: shownPath(file, cwd) }));
}

function refused(shown: string, error: UserError): LogSource {
  return { kind: 'none', shown, error };
}
