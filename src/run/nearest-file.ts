import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The file called `name` in `folder` or the nearest folder above it. */
export function nearestFile(folder: string, name: string): string | undefined {
  for (let here = folder; ; here = dirname(here)) {
    const candidate = join(here, name);
    if (existsSync(candidate)) return candidate;
    if (dirname(here) === here) return undefined;
  }
}
