import { UserError } from '../kernel/user-error.ts';
import { fileChunks, stdinChunks } from '../run/file-chunks.ts';
import { fileError } from '../run/file-error.ts';
import { findLogs, type LogSource } from '../run/find-logs.ts';

/** The one log that an argument names; a folder or pattern must hold exactly one. */
export async function findOneLog(argument: string, cwd: string): Promise<Exclude<LogSource, { kind: 'none' }>> {
  const logs = await findLogs([argument], cwd);
  const [log] = logs;
  if (log.kind === 'none') throw log.error;
  if (logs.length > 1) {
    throw new UserError(
      `${logs.length} logs are here, and one is wanted.`,
      argument,
      `Name one, such as ${log.shown}.`,
    );
  }
  return log;
}

export const chunksOf = (log: { readonly kind: 'file'; readonly path: string } | { readonly kind: 'stdin' }) =>
  log.kind === 'stdin' ? stdinChunks() : fileChunks(log.path);

/** Does something with a log; a refusal of the file system names it. */
export function withLog<T>(shown: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw fileError(error, shown);
  }
}
