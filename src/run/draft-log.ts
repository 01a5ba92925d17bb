import { draftText } from '../channels/draft-mapping.ts';
import { mayBeGuessed } from '../channels/guess-layout.ts';
import { type GuessedMapping, guessMapping } from '../channels/guess-mapping.ts';
import { normalise } from '../channels/normalise.ts';
import { isPersonalColumn } from '../channels/personal-column.ts';
import { parseMapping } from '../channels/read-mapping.ts';
import { unitDoubts } from '../channels/unit-doubts.ts';
import { UserError } from '../kernel/user-error.ts';
import { readTable } from '../read/read-table.ts';
import type { LogInput } from './log-input.ts';
import { namingFiles } from './read-mapped.ts';

export interface Draft {
  /** The file: JSON with comments. */
  readonly text: string;
  readonly guessed: GuessedMapping;
  readonly doubts: readonly string[];
}

/** Drafts the mapping of one log. Personal columns are never read. */
export function draftLog(
  input: Pick<LogInput, 'name' | 'chunks'>,
  options: { readonly rateHz?: number | undefined } = {},
): Draft {
  const table = readTable(
    { chunks: input.chunks, name: input.name },
    {
      keep: mayBeGuessed,
      mayShow: (column) => !isPersonalColumn(column),
      timeByRow: options.rateHz !== undefined,
    },
  );
  const where = { ...input, mapping: undefined };
  const guessed = namingFiles(where, () => guessForDraft(() => guessMapping(table, options)));
  const doubts = namingFiles(where, () => unitDoubts(normalise(table, guessed.mapping)));
  const stem = input.name.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '');
  const text = draftText(guessed, { title: `Drafted from ${stem || 'a log'}`, doubts });
  parseMapping(text, 'the drafted mapping');
  return { text, guessed, doubts };
}

/** A log without time can be drafted all the same, once its rate is given. */
function guessForDraft(guess: () => GuessedMapping): GuessedMapping {
  try {
    return guess();
  } catch (error) {
    if (!(error instanceof UserError) || !error.what.startsWith('no column looks like time')) throw error;
    throw new UserError(error.what, error.where, 'Give the rows per second with --rate, such as --rate 20.');
  }
}
