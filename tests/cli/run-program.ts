import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export const PROGRAM = resolve(import.meta.dirname, '../../bin/pullgate.js');

/** Variables that change what is printed, taken out so that the tests run the same everywhere. */
const UNSET = [
  'FORCE_COLOR',
  'NO_COLOR',
  'COLUMNS',
  'COLORTERM',
  'NODE_EXTRA_CA_CERTS',
  'PULLGATE_DEBUG',
  'LC_ALL',
  'LC_CTYPE',
  'LANG',
  'TERM',
];

export function cleanEnv(extra: Record<string, string> = {}): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !UNSET.includes(name));
  return { ...Object.fromEntries(kept), ...extra };
}

/** Runs the built program as a process of its own. */
export function runProgram(
  args: readonly string[],
  { cwd, input = '', env = {} }: { cwd: string; input?: string | Buffer; env?: Record<string, string> },
): Ended {
  const { status, stdout, stderr } = spawnSync(process.execPath, [PROGRAM, ...args], {
    cwd,
    input,
    env: cleanEnv(env),
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  return { status, stdout, stderr };
}
