import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { compareText } from '../kernel/compare-text.ts';
import { shownPath } from './shown-path.ts';

/** Files with this ending in a folder or right below it, as shown to people; for a hint, so that a folder that cannot be read holds none. */
export function sheetsNear(folder: string, ending: string, cwd: string): string[] {
  const here = entries(folder);
  const below = here.filter(
    (entry) => entry.isDirectory() && !entry.name.startsWith('.') && entry.name !== 'node_modules',
  );
  const files = (path: string, among: ReturnType<typeof entries>) =>
    among.filter((entry) => entry.isFile() && entry.name.endsWith(ending)).map((entry) => join(path, entry.name));
  return [
    ...files(folder, here),
    ...below.flatMap(({ name }) => files(join(folder, name), entries(join(folder, name)))),
  ].map((path) => shownPath(path, cwd));
}

function entries(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true }).sort((a, b) => compareText(a.name, b.name));
  } catch {
    return [];
  }
}
