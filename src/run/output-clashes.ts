import { UserError } from '../kernel/user-error.ts';
import { redactText } from '../report/redact.ts';
import { fileIdentity, stdinIdentity } from './file-identity.ts';
import type { LogSource } from './find-logs.ts';
import { type SheetChoice, sheetPaths } from './find-sheets.ts';
import { type Output, outputFiles } from './outputs.ts';

const ELSEWHERE = 'Choose another place with --out; nothing was written.';

/** Refuses outputs that would be written over a log, a mapping or a build sheet of this run, and two outputs to one file. Reads nothing. */
export function refuseClashes(
  outputs: readonly Output[],
  logs: readonly LogSource[],
  sheets: SheetChoice,
  cwd: string,
): void {
  if (outputs.every(({ to }) => to.kind === 'stdout')) return;
  const inputs = inputFiles(logs, sheets, cwd);
  const taken = new Set<string>();
  const shownLogs = logs.map(({ shown }) => redactText(shown));
  for (const { path, shown } of outputs.flatMap((output) => outputFiles(output, shownLogs))) {
    const identity = fileIdentity(path);
    const input = inputs.get(identity);
    if (input !== undefined)
      throw new UserError(`this is ${input} of this run and would be written over.`, shown, ELSEWHERE);
    if (taken.has(identity)) throw new UserError('two outputs would go into this one file.', shown, ELSEWHERE);
    taken.add(identity);
  }
}

/** What this run reads, by identity. */
function inputFiles(logs: readonly LogSource[], sheets: SheetChoice, cwd: string): Map<string, string> {
  const inputs = new Map<string, string>();
  const pathsOf = sheetPaths(sheets, cwd);
  for (const log of logs) {
    if (log.kind === 'none') continue;
    const identity = log.kind === 'stdin' ? stdinIdentity() : fileIdentity(log.path);
    if (identity !== undefined) inputs.set(identity, 'a log');
    const { mapping, build } = pathsOf(log);
    if (mapping !== undefined) inputs.set(fileIdentity(mapping), 'the mapping');
    if (build !== undefined) inputs.set(fileIdentity(build), 'the build sheet');
  }
  return inputs;
}
