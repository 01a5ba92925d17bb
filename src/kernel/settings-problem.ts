import type { KeyPath, SettingsFile } from './settings-file.ts';
import { showPath } from './settings-file.ts';
import { UserError } from './user-error.ts';

/** Something wrong in a settings file: at which key, what was found, what would do. */
export interface SettingsProblem {
  readonly path: KeyPath;
  readonly what: string;
  readonly mend?: string | undefined;
}

const SHOWN = 8;
/** Problems whose place is looked up, which costs a walk through the file each. */
const PLACED = 100;

const sentence = (problem: SettingsProblem) => [problem.what, problem.mend].filter(Boolean).join(' ');

/** All problems of one settings file as one UserError, in the order of the file, the first few in full. */
export function settingsError(settings: SettingsFile, problems: readonly SettingsProblem[]): UserError {
  const placed = problems
    .slice(0, PLACED)
    .map((problem) => ({ problem, ...settings.placeOf(problem.path) }))
    .sort((a, b) => a.line - b.line || a.column - b.column);
  const at = (p: (typeof placed)[number]) =>
    `${settings.file}:${p.line}:${p.column}${p.problem.path.length > 0 ? `, ${showPath(p.problem.path)}` : ''}`;
  if (placed.length === 1) return new UserError(placed[0].problem.what, at(placed[0]), placed[0].problem.mend);
  const lines = placed.slice(0, SHOWN).map((p) => `  ${at(p)}: ${sentence(p.problem)}`);
  if (problems.length > SHOWN) lines.push(`  and ${problems.length - SHOWN} more`);
  return new UserError(`${problems.length} problems\n${lines.join('\n')}`, settings.file);
}
