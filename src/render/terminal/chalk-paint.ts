import { Chalk } from 'chalk';
import type { Paint } from './paint.ts';

export function chalkPaint(level: 1 | 2 | 3): Paint {
  const chalk = new Chalk({ level });
  const byVerdict = {
    pass: chalk.green,
    warn: chalk.yellow.bold,
    fail: chalk.red.bold,
    'not-assessed': chalk.cyan,
  };
  return {
    verdict: (verdict, text) => byVerdict[verdict](text),
    strong: (text) => chalk.bold(text),
    faint: (text) => chalk.dim(text),
  };
}
