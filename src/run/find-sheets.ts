import { dirname, resolve } from 'node:path';
import { UserError } from '../kernel/user-error.ts';
import type { LogSource } from './find-logs.ts';
import type { SheetText } from './log-input.ts';
import { nearestFile } from './nearest-file.ts';
import { sheetText } from './sheet-text.ts';
import { sheetsNear } from './sheets-near.ts';
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
  /** Without a mapping: files nearby that may be meant as one. */
  readonly mappingsNear?: readonly string[];
}

/** Where they are sought from, and found. */
export interface SheetPaths {
  readonly folder: string;
  readonly mapping: string | undefined;
  readonly build: string | undefined;
}

export function sheetPaths(choice: SheetChoice, cwd: string): (log: LogSource) => SheetPaths {
  const given = (path: string | undefined) => (path === undefined ? undefined : resolve(cwd, path));
  const map = given(choice.map);
  const sheet = given(choice.build);
  return (log) => {
    const folder = log.kind === 'file' ? dirname(log.path) : cwd;
    return { folder, mapping: map ?? nearestFile(folder, MAP_FILE), build: sheet ?? nearestFile(folder, BUILD_FILE) };
  };
}

/** The mapping and build sheet of a log: as given, else the nearest above the log (for standard input, above the working directory). */
export function sheetFinder(choice: SheetChoice, cwd: string): (log: LogSource) => Sheets {
  const read = sheetReader(cwd);
  const pathsOf = sheetPaths(choice, cwd);
  return (log) => {
    const { folder, mapping, build } = pathsOf(log);
    if (build === undefined) {
      const [near] = sheetsNear(folder, '.build.json', cwd);
      throw new UserError(
        'no build sheet was given and none lies beside the log or above it.',
        log.shown,
        near === undefined
          ? `Name one with --build, or write a starter ${BUILD_FILE} with "pullgate init" and fill it in.`
          : `Only ${BUILD_FILE} is found by itself. If ${near} is it, write --build ${near}.`,
      );
    }
    if (mapping !== undefined) return { mapping: read(mapping), build: read(build) };
    return { mapping: undefined, build: read(build), mappingsNear: sheetsNear(folder, '.map.json', cwd) };
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
    const sheet = known.get(absolute) ?? { text: sheetText(absolute, name), name };
    known.set(absolute, sheet);
    return sheet;
  };
}
