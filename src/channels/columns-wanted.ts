import type { ChannelId } from './catalogue.ts';
import type { ChannelSource, Mapping } from './mapping-schema.ts';
import { foldUnit } from './match-column.ts';

/** A channel of the mapping in its long form. */
export function mappedChannels(mapping: Mapping): [ChannelId, ChannelSource][] {
  return (Object.entries(mapping.channels) as [ChannelId, string | ChannelSource][]).map(([id, source]) => [
    id,
    typeof source === 'string' ? { column: source } : source,
  ]);
}

/** The names the mapping uses for columns of the file. */
function namedColumns(mapping: Mapping): string[] {
  const names = 'column' in mapping.time ? [mapping.time.column] : [];
  if (mapping.layout === 'long' && mapping.long) {
    return [...names, mapping.long.name, mapping.long.value, ...(mapping.long.unit ? [mapping.long.unit] : [])];
  }
  for (const [, source] of mappedChannels(mapping)) {
    names.push(source.column);
    if (source.time !== undefined) names.push(source.time);
  }
  return names;
}

/** Whether a column of the file may be one that the mapping names; for the reader, so that it keeps nothing else. */
export function columnsWanted(mapping: Mapping): (columnName: string) => boolean {
  const names = namedColumns(mapping);
  const ignored = new Set(mapping.ignore ?? []);
  let folded: Set<string> | undefined;
  return (columnName) => {
    if (names.includes(columnName)) return true;
    if (ignored.has(columnName)) return false;
    folded ??= new Set(names.map(foldUnit));
    return folded.has(foldUnit(columnName));
  };
}
