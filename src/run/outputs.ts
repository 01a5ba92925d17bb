import { accessSync, constants, mkdirSync, statSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { UserError } from '../kernel/user-error.ts';
import type { Format } from '../render/format.ts';
import { fileError } from './file-error.ts';
import { shownPath } from './shown-path.ts';

/** Where one format goes: standard output, one file for all logs, or a folder with a file for each. */
export interface Output {
  readonly format: Format;
  readonly to:
    | { readonly kind: 'stdout' }
    | { readonly kind: 'file' | 'folder'; readonly path: string; readonly shown: string };
}

/** `-f` and `-o` in the order written. */
export type OutputWord = { readonly format: Format } | { readonly out: string };

/**
 * Pairs formats with places. As many places as formats: in order. Fewer: a place belongs to the format written just before it, and one
 * format may be left for standard output. A single folder takes all formats. Without any format, the place's ending tells it, else the
 * first format there is.
 */
export function planOutputs(words: readonly OutputWord[], known: readonly Format[], cwd: string): Output[] {
  const outs = words.flatMap((word) => ('out' in word ? [word.out] : []));
  const named = words.flatMap((word) => ('format' in word ? [word.format] : []));
  const formats = named.length > 0 ? named : [formatOfFile(outs[0], known)];
  if (outs.length === 1 && isFolder(resolve(cwd, outs[0]), outs[0])) {
    return formats.map((format) => ({ format, to: place(outs[0], cwd) }));
  }
  if (outs.length === formats.length) return formats.map((format, i) => ({ format, to: place(outs[i], cwd) }));
  return pairByOrder(words, formats, outs, cwd);
}

function pairByOrder(
  words: readonly OutputWord[],
  formats: readonly Format[],
  outs: readonly string[],
  cwd: string,
): Output[] {
  const planned: { format: Format; to?: Output['to'] }[] = [];
  for (const word of words) {
    const last = planned.at(-1);
    if ('format' in word) planned.push({ format: word.format });
    else if (last && !last.to) last.to = place(word.out, cwd);
    else throw new UserError(`${outs.length} places are given for ${count(formats)}.`, '--out', PAIR);
  }
  if (words.length === 0) planned.push({ format: formats[0] });
  const loose = planned.filter((output) => output.to === undefined);
  if (loose.length > 1) throw new UserError(`${count(formats)} cannot share standard output.`, '--format', PAIR);
  return planned.map(({ format, to = { kind: 'stdout' } }) => ({ format, to }));
}

/** Endings that promise a kind of file that no format gives, and what comes near. */
const FOREIGN: Readonly<Record<string, string>> = {
  pdf: 'Write a page with --format html and print it into a PDF.',
  xlsx: 'Write --format csv, which spreadsheets open.',
  xls: 'Write --format csv, which spreadsheets open.',
  ods: 'Write --format csv, which spreadsheets open.',
  docx: 'Write --format markdown or html.',
};

function formatOfFile(out: string | undefined, known: readonly Format[]): Format {
  const ending = /\.([a-z]+)$/i.exec(out ?? '')?.[1].toLowerCase() ?? '';
  if (Object.hasOwn(FOREIGN, ending)) {
    throw new UserError(`there is no format for .${ending}.`, out, FOREIGN[ending]);
  }
  return known.find((format) => out?.toLowerCase().endsWith(`.${format.extension}`)) ?? known[0];
}

const PAIR = 'Write each --out right after its --format.';

function count(formats: readonly Format[]): string {
  return formats.length === 1 ? 'one format' : `${formats.length} formats`;
}

/** A file that will be written. */
interface OutputFile {
  readonly path: string;
  readonly shown: string;
}

/** Every file of one output: the one, or in a folder one for each log in turn, and with several logs their summary last. */
export function outputFiles({ format, to }: Output, shownLogs: readonly string[]): OutputFile[] {
  if (to.kind === 'stdout') return [];
  if (to.kind === 'file') return [{ path: to.path, shown: to.shown }];
  const summary = `summary.${format.inFolder ?? format.extension}`;
  const taken = new Set([summary]);
  const paths = shownLogs.map((log) => fileInFolder(to.path, log, format, taken));
  const all = shownLogs.length > 1 ? [...paths, join(to.path, summary)] : paths;
  return all.map((path) => ({ path, shown: join(to.shown, basename(path)) }));
}

/** Makes folders and refuses what cannot be written, before any work is done. */
export function prepareOutputs(outputs: readonly Output[]): void {
  for (const { to } of outputs) {
    if (to.kind === 'stdout') continue;
    try {
      if (to.kind === 'folder') mkdirSync(to.path, { recursive: true });
      accessSync(to.kind === 'folder' ? to.path : dirname(to.path), constants.W_OK);
    } catch (error) {
      const noFolder = to.kind === 'file' && (error as NodeJS.ErrnoException).code === 'ENOENT';
      throw noFolder
        ? new UserError('the folder that this would go into is not there.', to.shown, 'Make the folder first.')
        : fileError(error, to.shown);
    }
  }
}

/** The file of one log inside a folder: its path with the folders joined by `-`, and the format's extension. */
export function fileInFolder(folder: string, shownLog: string, format: Format, taken: Set<string>): string {
  const stem = shownLog
    .replace(/\.csv$/i, '')
    .replace(/^(\.\.?\/)+/, '')
    .replace(/[^\p{L}\p{N}._-]+/gu, '-');
  for (let n = 1; ; n++) {
    const name = `${stem}${n === 1 ? '' : `-${n}`}.${format.inFolder ?? format.extension}`;
    if (taken.has(name)) continue;
    taken.add(name);
    return join(folder, name);
  }
}

function place(out: string, cwd: string): Output['to'] {
  const path = resolve(cwd, out);
  return { kind: isFolder(path, out) ? 'folder' : 'file', path, shown: shownPath(out, cwd) };
}

function isFolder(path: string, asWritten: string): boolean {
  if (/[/\\]$/.test(asWritten)) return true;
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}
