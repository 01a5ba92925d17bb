import type { Analyser } from '../analysers/analyser.ts';
import { didYouMean } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';

/** The analysers asked for, in report order. */
export function selectAnalysers(
  all: readonly Analyser[],
  only: readonly string[] | undefined,
  skip: readonly string[],
): readonly Analyser[] {
  const ids = all.map((analyser) => analyser.meta.id);
  refuseUnknown(only ?? [], ids, '--only');
  refuseUnknown(skip, ids, '--skip');
  const chosen = all.filter(({ meta }) => (only === undefined || only.includes(meta.id)) && !skip.includes(meta.id));
  if (chosen.length > 0) return chosen;
  throw new UserError('No analyser is left to run.', '--only, --skip', `Analysers are: ${ids.join(', ')}.`);
}

function refuseUnknown(asked: readonly string[], ids: readonly string[], option: string): void {
  const unknown = asked.find((id) => !ids.includes(id));
  if (unknown === undefined) return;
  const hint = didYouMean(unknown, ids) ?? `Analysers are: ${ids.join(', ')}.`;
  throw new UserError(`There is no analyser "${unknown}".`, option, hint);
}
