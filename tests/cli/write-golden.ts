import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { GOLDEN, goldenOutput, goldenRuns } from './golden-runs.ts';

rmSync(GOLDEN, { recursive: true, force: true });
mkdirSync(GOLDEN);
for (const run of goldenRuns()) writeFileSync(join(GOLDEN, run.name), goldenOutput(run));
