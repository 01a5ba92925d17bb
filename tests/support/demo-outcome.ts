import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { assessLogWithTraces } from '../../src/run/assess-log.ts';

const DEMO = join(import.meta.dirname, '../../demo-logs');

/** A demo log, assessed with its traces. */
export function demoOutcome(car: string, log: string): ReturnType<typeof assessLogWithTraces> {
  const sheet = (name: string) => ({ text: readFileSync(join(DEMO, car, name), 'utf8'), name });
  return assessLogWithTraces({
    name: log,
    chunks: [readFileSync(join(DEMO, car, log))],
    mapping: sheet('pullgate.map.json'),
    build: sheet('pullgate.build.json'),
    version: '0.0.0',
  });
}
