import type { Analyser, AnalyserMeta } from '../analysers/analyser.ts';
import { FINDING_NOTES, type FindingNote } from '../analysers/finding-notes.ts';
import { ANALYSERS } from '../analysers/registry.ts';
import type { LimitDefinition } from '../build-sheet/limit.ts';
import { channelEntry } from '../channels/catalogue.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { didYouMean, nearNames } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';
import { wrap } from '../render/terminal/wrap.ts';
import { CAUSE_RULES } from '../report/causes/rank-causes.ts';
import { allCauseLines, CAUSES, causeLines, causeNamed } from './explain-causes.ts';
import { labelledLines } from './labelled-lines.ts';

/**
 * The list of analysers; one of them in full, by its id or by that of one of its limits or findings; all rules about causes; or one of
 * these.
 */
export function explainText(id: string | undefined, width: number, analysers: readonly Analyser[] = ANALYSERS): string {
  const metas = analysers.map((analyser) => analyser.meta);
  const lines = id === undefined ? listLines(metas, width) : oneLines(id, metas, width);
  return `${lines.join('\n')}\n`;
}

function listLines(metas: readonly AnalyserMeta[], width: number): string[] {
  const column = Math.max(...metas.map((meta) => meta.id.length)) + 2;
  const row = (id: string, text: string) => wrap(text, width, { first: id.padEnd(column), rest: ' '.repeat(column) });
  return [
    ...metas.flatMap((meta) => row(meta.id, meta.question)),
    '',
    ...row(
      CAUSES,
      `What may be behind it: ${CAUSE_RULES.length} rules, each with its physics, what speaks for and against, and what to check`,
    ),
    '',
    'More on one of them: pullgate explain ID',
  ];
}

function oneLines(id: string, metas: readonly AnalyserMeta[], width: number): string[] {
  if (id === CAUSES) return allCauseLines(width);
  const rule = causeNamed(id);
  if (rule) return causeLines(rule, width);
  const meta = metas.find((candidate) => candidate.id === id.split('.')[0]);
  const limit = meta?.limits.find((candidate) => candidate.id === id);
  const note = meta && noteNamed(id, meta);
  if (!meta || (id !== meta.id && !limit && !note)) throw unknownId(id, metas);
  const head = limit ? limitLines(limit, width) : note ? noteLines(note, meta, width) : [];
  return [...head, ...(head.length > 0 ? [''] : []), ...metaLines(meta, width)];
}

/** Every analyser can break down, which is a finding too. */
function noteNamed(id: string, meta: AnalyserMeta): FindingNote | undefined {
  if (id !== `${meta.id}.crashed`) return FINDING_NOTES.find((note) => note.id === id);
  const says =
    'A fault of pullgate: the question is left open, which is never a pass, the other questions are answered, and the run ends 2.';
  return { id, title: 'The analyser broke down', says };
}

function metaLines(meta: AnalyserMeta, width: number): string[] {
  const row = (label: string, texts: readonly string[]) => labelledLines(label, texts, width);
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
      meta.limits.length > 0
        ? meta.limits.map((limit) => `${limit.id}: ${limit.title}; ${levels(limit)}; ${limit.source}`)
        : ['none to set: each finding says its own marks and where they come from'],
    ),
    ...row(
      'Also tells',
      FINDING_NOTES.filter((note) => note.id.startsWith(`${meta.id}.`)).map((note) => `${note.id}: ${note.title}`),
    ),
    ...row('Cannot see', meta.cannotSee),
    ...row('Cautions', meta.cautions),
  ];
}

function noteLines({ id, title, says }: FindingNote, meta: AnalyserMeta, width: number): string[] {
  return [`${meta.title}: ${title} (${id})`, '', ...labelledLines('Tells', [says], width)];
}

function limitLines(limit: LimitDefinition, width: number): string[] {
  return [
    `${limit.title} (${limit.id})`,
    '',
    ...labelledLines('Limit', [`${levels(limit)}. A value at or above a limit trips it.`], width),
    ...labelledLines('Source', [limit.source], width),
    ...labelledLines(
      'Override',
      [`in the build sheet: "limits": { "${limit.id}": { ${overrideExample(limit)} } }`],
      width,
    ),
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

function channelWords(id: AnalyserMeta['helps'][number]): string {
  const { unit, term } = channelEntry(id);
  return `${id} (${term === undefined ? unit : `${unit}, ${term}`})`;
}

/** Near names: of a known analyser's own measures, else of everything there is. */
function unknownId(id: string, metas: readonly AnalyserMeta[]): UserError {
  const ids = [
    ...metas.flatMap((meta) => [meta.id, ...meta.limits.map((limit) => limit.id)]),
    ...FINDING_NOTES.map((note) => note.id),
    CAUSES,
    ...CAUSE_RULES.map((rule) => rule.id),
  ];
  const own = `${id.split('.')[0]}.`;
  const measures = ids.filter((one) => one.startsWith(own)).map((one) => one.slice(own.length));
  const [near] = nearNames(id.slice(own.length), measures, 1);
  return new UserError(
    `There is no "${id}".`,
    'explain',
    near === undefined
      ? (didYouMean(id, ids) ?? 'Without an id, "pullgate explain" lists them.')
      : `Did you mean "${own}${near}"?`,
  );
}
