import type { Analyser, AnalyserMeta } from '../analysers/analyser.ts';
import { ANALYSERS } from '../analysers/registry.ts';
import type { LimitDefinition } from '../build-sheet/limit.ts';
import { channelEntry } from '../channels/catalogue.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { didYouMean, nearNames } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';
import { wrap } from '../render/terminal/wrap.ts';

const LABEL = 14;

/** The list of analysers, or one of them (by its id or by that of one of its limits or findings) in full. */
export function explainText(id: string | undefined, width: number, analysers: readonly Analyser[] = ANALYSERS): string {
  const metas = analysers.map((analyser) => analyser.meta);
  const lines = id === undefined ? listLines(metas, width) : oneLines(id, metas, width);
  return `${lines.join('\n')}\n`;
}

function listLines(metas: readonly AnalyserMeta[], width: number): string[] {
  const column = Math.max(...metas.map((meta) => meta.id.length)) + 2;
  const rows = metas.flatMap((meta) =>
    wrap(meta.question, width, { first: meta.id.padEnd(column), rest: ' '.repeat(column) }),
  );
  return [...rows, '', 'More on one of them: pullgate explain ID'];
}

function oneLines(id: string, metas: readonly AnalyserMeta[], width: number): string[] {
  const meta = metas.find((candidate) => candidate.id === id.split('.')[0]);
  if (!meta) throw unknownId(id, metas);
  const limit = meta.limits.find((candidate) => candidate.id === id);
  if (id !== meta.id && !limit) refuseMisspelt(id, meta);
  return [...(limit ? [...limitLines(limit, width), ''] : []), ...metaLines(meta, width)];
}

function metaLines(meta: AnalyserMeta, width: number): string[] {
  const row = (label: string, texts: readonly string[]) => labelled(label, texts, width);
  return [
    `${meta.title} (${meta.id})`,
    '',
    ...row('Question', [meta.question]),
    ...row('Formula', [meta.formula]),
    ...row('Physics', [meta.physics]),
    ...row(
      'Needs',
      meta.needs.length > 0 ? meta.needs.map((any) => any.map(channelWords).join(' or ')) : ['no channel'],
    ),
    ...row('Helped by', meta.helps.map(channelWords)),
    ...row(
      'Limits',
      meta.limits.map((limit) => `${limit.id}: ${limit.title}; ${levels(limit)}; ${limit.source}`),
    ),
    ...row('Cannot see', meta.cannotSee),
    ...row('Cautions', meta.cautions),
  ];
}

function limitLines(limit: LimitDefinition, width: number): string[] {
  return [
    `${limit.title} (${limit.id})`,
    '',
    ...labelled('Limit', [`${levels(limit)}. A value at or above a limit trips it.`], width),
    ...labelled('Source', [limit.source], width),
    ...labelled('Override', [`in the build sheet: "limits": { "${limit.id}": { ${overrideExample(limit)} } }`], width),
  ];
}

function levels({ warn, fail, unit }: LimitDefinition): string {
  const parts = [
    warn === undefined ? [] : `warn at ${formatQuantity(warn, unit)}`,
    fail === undefined ? [] : `fail at ${formatQuantity(fail, unit)}`,
  ].flat();
  return parts.length > 0 ? parts.join(', ') : 'no default limit';
}

function overrideExample({ warn, fail, unit }: LimitDefinition): string {
  const parts = [
    warn === undefined ? [] : `"warn": "${warn} ${unit}"`,
    fail === undefined ? [] : `"fail": "${fail} ${unit}"`,
  ];
  return parts.flat().join(', ');
}

function labelled(label: string, texts: readonly string[], width: number): string[] {
  const rest = ' '.repeat(LABEL);
  return texts.flatMap((text, i) =>
    wrap(text, width, { first: i === 0 ? label.padEnd(LABEL) : rest, rest: `${rest}  ` }),
  );
}

function channelWords(id: AnalyserMeta['helps'][number]): string {
  const { unit, term } = channelEntry(id);
  return `${id} (${term === undefined ? unit : `${unit}, ${term}`})`;
}

/** Findings beyond the declared limits have ids of their own, which only a report shows; a slip of a limit's id is told apart from them. */
function refuseMisspelt(id: string, meta: AnalyserMeta): void {
  const measure = id.slice(meta.id.length + 1);
  const near = nearNames(
    measure,
    meta.limits.map((limit) => limit.id.slice(meta.id.length + 1)),
    1,
  );
  if (near.length > 0) throw new UserError(`There is no "${id}".`, 'explain', `Did you mean "${meta.id}.${near[0]}"?`);
}

function unknownId(id: string, metas: readonly AnalyserMeta[]): UserError {
  const ids = metas.flatMap((meta) => [meta.id, ...meta.limits.map((limit) => limit.id)]);
  return new UserError(
    `There is no "${id}".`,
    'explain',
    didYouMean(id, ids) ?? 'Without an id, "pullgate explain" lists them.',
  );
}
