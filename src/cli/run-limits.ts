import { redactText } from '../report/redact.ts';
import { findBuildSheet } from '../run/find-sheets.ts';
import { limitsInForce } from '../run/limits-in-force.ts';
import type { Io } from './io.ts';
import { limitsText } from './limits-text.ts';

const DEFAULT_WIDTH = 80;

export function runLimits(build: string | undefined, format: 'terminal' | 'json', io: Io): string {
  const limits = limitsInForce(findBuildSheet(build, io.cwd));
  const text =
    format === 'json'
      ? `${JSON.stringify(limits, null, 2)}\n`
      : limitsText(limits, io.columns ?? (Number(io.env.COLUMNS) || DEFAULT_WIDTH));
  return redactText(text);
}
