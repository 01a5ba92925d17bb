import { mayBeGuessed } from '../../src/channels/guess-layout.ts';
import { guessMapping } from '../../src/channels/guess-mapping.ts';
import type { Mapping } from '../../src/channels/mapping-schema.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import { unitDoubts } from '../../src/channels/unit-doubts.ts';
import { readTable } from '../../src/read/read-table.ts';
import type { GeneratedCase } from '../support/simulate.ts';
import { type Verdict, verdictsOn } from './assess.ts';

export interface Comparison {
  /** Answers that the drafted mapping changed. */
  readonly different: readonly { readonly id: string; readonly truth: Verdict; readonly drafted: Verdict }[];
  /** Answers that passed by the drafted mapping and fail by the true one. */
  readonly wrongPasses: readonly string[];
  /** Channels of the true mapping that the draft lacks. */
  readonly leftOut: readonly string[];
  readonly questions: readonly string[];
  /** What physics doubts in the log read by its true mapping: nothing, as it is true. */
  readonly falseDoubts: readonly string[];
}

const readAll = (generated: GeneratedCase, { dialect, missing }: Mapping) =>
  readTable({ chunks: [generated.bytes], name: generated.name }, { dialect, missing });

/** Judges a generated log by its true mapping and by the one drafted from the log alone. */
export function compareDrafted(generated: GeneratedCase): Comparison {
  const truth = parseMapping(generated.mappingText, 'true.map.json');
  const table = readTable({ chunks: [generated.bytes], name: generated.name }, { keep: mayBeGuessed });
  // A log without a time column needs the one thing that only a person knows.
  const rateHz = 'rate' in truth.time ? truth.time.rate : undefined;
  const drafted = guessMapping(table, { rateHz });
  const byTruth = verdictsOn(generated);
  const byDraft = verdictsOn({ ...generated, mappingText: JSON.stringify(drafted.mapping) });
  const different = [...byTruth.keys()].flatMap((id) => {
    const [a, b] = [byTruth.get(id), byDraft.get(id)];
    return a !== undefined && b !== undefined && a !== b ? [{ id, truth: a, drafted: b }] : [];
  });
  return {
    different,
    wrongPasses: different.filter((d) => d.truth === 'fail' && d.drafted === 'pass').map((d) => d.id),
    leftOut: Object.keys(truth.channels).filter((id) => !(id in drafted.mapping.channels)),
    questions: drafted.notes,
    falseDoubts: unitDoubts(normalise(readAll(generated, truth), truth)),
  };
}
