import type { TraceTrack } from '../../report/pull-traces.ts';

/** Measured lines are told apart by dashes as well as by colour. */
export function lineClass({ lines }: TraceTrack, index: number): string {
  const { role } = lines[index];
  const before = lines.slice(0, index).filter((line) => line.role === role).length;
  return role === 'measured' ? `line s${before % 6}` : `line ${role}`;
}
