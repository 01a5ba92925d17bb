import { dirname, resolve } from 'node:path';
import type { LogSource } from './find-logs.ts';
import { MAP_FILE } from './find-sheets.ts';
import type { SheetText } from './log-input.ts';
import { nearestFile } from './nearest-file.ts';
import { sheetText } from './sheet-text.ts';
import { shownPath } from './shown-path.ts';

/** The mapping given, else the nearest above the log (for standard input, above the working directory); undefined where there is none. */
export function findMapping(given: string | undefined, log: LogSource, cwd: string): SheetText | undefined {
  const path = given ?? nearestFile(log.kind === 'file' ? dirname(log.path) : cwd, MAP_FILE);
  if (path === undefined) return undefined;
  const name = shownPath(path, cwd);
  return { text: sheetText(resolve(cwd, path), name), name };
}
