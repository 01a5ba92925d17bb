import { dirname, resolve } from 'node:path';
import { UserError } from '../kernel/user-error.ts';
import { textOfFile } from './file-chunks.ts';
import { fileError } from './file-error.ts';
import type { LogSource } from './find-logs.ts';
import type { SheetText } from './log-input.ts';
import { nearestFile } from './nearest-file.ts';
import { shownPath } from './shown-path.ts';

export const MAP_FILE = 'pullgate.map.json';
export const BUILD_FILE = 'pullgate.build.json';

export interface SheetChoice {
  /** As given with --map and --build. */
  readonly map: string | undefined;
  readonly build: string | undefined;
}

export interface Sheets {
  readonly mapping: SheetText | undefined;
  readonly build: SheetText;
}

/** The mapping and build sheet of a log: as given, else the nearest above the log (for standard input, above the working directory). */
export function sheetFinder(choice: SheetChoice, cwd: string): (log: LogSource) => Sheets {
  const read = sheetReader(cwd);
  return (log) => {
    const folder = log.kind === 'file' ? dirname(log.path) : cwd;
    const mapping = choice.map ?? nearestFile(folder, MAP_FILE);
    const build = choice.build ?? nearestFile(folder, BUILD_FILE);
    if (build === undefined) {
      throw new UserError(
        'no build sheet was given and none lies beside the log or above it.',
        log.shown,
        `Name one with --build, or write a starter ${BUILD_FILE} with "pullgate init" and fill it in.`,
      );
    }
    return { mapping: mapping === undefined ? undefined : read(mapping), build: read(build) };
  };
}

/** The build sheet given, else the nearest above the working directory, if there is one. */
export function findBuildSheet(given: string | undefined, cwd: string): SheetText | undefined {
  const path = given ?? nearestFile(cwd, BUILD_FILE);
  return path === undefined ? undefined : sheetReader(cwd)(path);
}

/** Reads each sheet once, however many logs share it. */
function sheetReader(cwd: string): (path: string) => SheetText {
  const known = new Map<string, SheetText>();
  return (path) => {
    const absolute = resolve(cwd, path);
    const name = shownPath(path, cwd);
    const sheet = known.get(absolute) ?? { text: readText(absolute, name), name };
    known.set(absolute, sheet);
    return sheet;
  };
}

function readText(path: string, name: string): string {
  try {
    return textOfFile(path);
  } catch (error) {
    throw fileError(error, name);
  }
}
