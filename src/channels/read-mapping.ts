import { schemaProblems } from '../kernel/schema-problems.ts';
import { type KeyPath, readSettingsFile } from '../kernel/settings-file.ts';
import { type SettingsProblem, settingsError } from '../kernel/settings-problem.ts';
import { shownText } from '../kernel/shown-text.ts';
import { UserError } from '../kernel/user-error.ts';
import { type ChannelId, isChannelId } from './catalogue.ts';
import { dimensionOfChannel, mayBeGauge, unitOn, unitsThatDo } from './channel-kind.ts';
import { channelByName } from './guess-name.ts';
import { type ChannelSource, type Mapping, MappingSchema } from './mapping-schema.ts';

type Add = (path: KeyPath, what: string, mend?: string) => void;

function checkChannel(id: ChannelId, source: ChannelSource, layout: 'wide' | 'long', add: Add): void {
  const at = (key: string) => ['channels', id, key];
  if (source.unit !== undefined) {
    const unit = unitOn(id, source.unit);
    if (unit === undefined || unit === 'wrong') {
      const what =
        unit === 'wrong'
          ? `${shownText(source.unit)} is no unit of ${id}.`
          : `${shownText(source.unit)} is not a unit known here.`;
      add(at('unit'), what, `Units that would do: ${unitsThatDo(id)}.`);
    } else if (unit.reference && source.reference && unit.reference !== source.reference) {
      add(
        at('reference'),
        `the unit "${source.unit}" says ${unit.reference}, the reference says ${source.reference}.`,
        'Keep the right one.',
      );
    }
  }
  const isTrueOfAir = id === 'barometric_pressure' && source.reference === 'absolute';
  if (source.reference !== undefined && !mayBeGauge(id) && !isTrueOfAir) {
    const why = id === 'barometric_pressure' ? 'barometric pressure is always absolute.' : `${id} is no pressure.`;
    add(at('reference'), why, 'Leave "reference" out.');
  }
  if (source.stoich !== undefined && dimensionOfChannel(id) !== 'mixture') {
    add(at('stoich'), `${id} is no mixture.`, 'Leave "stoich" out.');
  }
  if (source.scale === 0) add(at('scale'), 'a scale of 0 would wipe out every value.', 'Leave "scale" out for 1.');
  if (source.time !== undefined && layout === 'long') {
    add(at('time'), 'a row of the long layout has one time, named under "time".', 'Leave it out.');
  }
}

function checkMapping(mapping: Mapping): SettingsProblem[] {
  const problems: SettingsProblem[] = [];
  const add: Add = (path, what, mend) => problems.push({ path, what, mend });
  const layout = mapping.layout ?? 'wide';
  if (layout === 'long' && !mapping.long) {
    add(['layout'], 'the long layout needs to know its columns.', 'Add "long": { "name": "…", "value": "…" }.');
  }
  if (layout === 'wide' && mapping.long) {
    add(['long'], '"long" belongs to the long layout.', 'Set "layout": "long", or leave "long" out.');
  }
  if (layout === 'long' && 'rate' in mapping.time) {
    add(['time', 'rate'], 'a long log needs a time column.', 'Write "time": { "column": "…", "unit": "s" }.');
  }
  const entries = Object.entries(mapping.channels) as [ChannelId, string | ChannelSource][];
  if (entries.length === 0) {
    add(['channels'], 'no channel is mapped.', 'Add at least "engine_speed": "name of its column".');
  }
  const readAs = new Map<string, ChannelId>();
  for (const [id, source] of entries) {
    if (typeof source !== 'string') checkChannel(id, source, layout, add);
    const column = typeof source === 'string' ? source : source.column;
    const other = readAs.get(column);
    if (other === undefined) readAs.set(column, id);
    else {
      const path = typeof source === 'string' ? ['channels', id] : ['channels', id, 'column'];
      add(path, `${shownText(column)} is read as ${other} already.`, `Name the column of ${id}, or leave it out.`);
    }
  }
  return problems;
}

/** A channel under the name that the trade or a logger gives it: says the one it has here. */
function namingChannel(problem: SettingsProblem): SettingsProblem {
  const [group, key, ...deeper] = problem.path;
  if (group !== 'channels' || typeof key !== 'string' || deeper.length > 0 || isChannelId(key)) return problem;
  const meant = channelByName(key)?.id;
  const mend = meant === undefined ? problem.mend : `Write "${meant}".`;
  return { ...problem, mend: mend ?? 'The starter that "pullgate init" writes lists every channel.' };
}

/** A settings file of another kind, given in this place; nothing where it may be the right kind. */
function otherKind(kind: unknown): readonly [what: string, mend: string] | undefined {
  if (typeof kind !== 'string' || kind.startsWith('map/')) return undefined;
  if (kind.startsWith('build/')) return ['this is a build sheet, not a mapping.', 'Give it with --build.'];
  const isOurs = /^(report|summary|survey)\//.test(kind);
  return isOurs
    ? [`this is a ${kind.split('/')[0]} of pullgate, not a mapping.`, 'Give the mapping with --map.']
    : undefined;
}

/** Reads a mapping file. Whatever is wrong in it comes as one UserError, each problem with line, column and key path. */
export function parseMapping(text: string, file: string): Mapping {
  const settings = readSettingsFile(text, file);
  const kind = (settings.value as { pullgate?: unknown } | null)?.pullgate;
  const other = otherKind(kind);
  if (other) throw new UserError(other[0], file, other[1]);
  const problems = schemaProblems(MappingSchema, settings.value);
  if (problems.length > 0) throw settingsError(settings, problems.map(namingChannel));
  const mapping = settings.value as Mapping;
  const slips = checkMapping(mapping);
  if (slips.length > 0) throw settingsError(settings, slips);
  return mapping;
}
