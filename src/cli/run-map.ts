import { existsSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { UserError } from '../kernel/user-error.ts';
import { redactText } from '../report/redact.ts';
import { type Draft, draftLog } from '../run/draft-log.ts';
import { fileIdentity } from '../run/file-identity.ts';
import { MAP_FILE } from '../run/find-sheets.ts';
import { shownPath } from '../run/shown-path.ts';
import { writeAtomically } from '../run/write-atomically.ts';
import type { MapOptions } from './commands/map.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { chunksOf, findOneLog, withLog } from './one-log.ts';
import { printMessage } from './print-message.ts';

/** Drafts a mapping: to standard output, or into a file that is not there yet. Guesses and questions go to standard error. */
export async function runMap(argument: string, options: MapOptions, io: Io): Promise<ExitCode> {
  const log = await findOneLog(argument, io.cwd);
  const beside = log.kind === 'file' ? dirname(log.path) : io.cwd;
  const target = options.out ?? (options.write ? join(beside, MAP_FILE) : undefined);
  const path = target === undefined ? undefined : resolve(io.cwd, target);
  const shown = target === undefined ? '' : shownPath(target, io.cwd);
  if (path !== undefined && existsSync(path) && !options.force) {
    throw new UserError('already there; nothing was written.', shown, 'Move it away, or write over it with --force.');
  }
  if (path !== undefined && log.kind === 'file' && fileIdentity(path) === fileIdentity(log.path)) {
    throw new UserError('this is the log itself and would be written over.', shown, 'Choose another place with --out.');
  }
  const draft = withLog(log.shown, () =>
    draftLog({ name: log.shown, chunks: chunksOf(log) }, { rateHz: options.rate }),
  );
  const text = redactText(draft.text);
  if (path === undefined) io.out(text);
  else writeAtomically(path, text, shown);
  for (const line of messages(draft)) printMessage(io, line);
  if (path !== undefined) printMessage(io, `wrote ${shown}. Read every line of it before trusting an answer.`);
  return EXIT.open;
}

/** How sure each guess is and why, what is open, and what physics doubts. */
function messages({ guessed, doubts }: Draft): string[] {
  const { guesses, questions } = guessed;
  const sure = (confidence: number) => `${Math.round(100 * confidence)} %`;
  return [
    ...guesses.map(
      ({ channel, column, confidence, why }) => `${channel} is "${column}" (${sure(confidence)}: ${why}).`,
    ),
    ...questions.map(({ ask }) => `QUESTION ${ask}`),
    ...doubts.map((text) => `DOUBT ${text}`),
  ];
}
