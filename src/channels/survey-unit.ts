import type { Column } from '../read/table.ts';
import { recogniseUnit } from '../units/recognise-unit.ts';
import { channelEntry } from './catalogue.ts';
import { isStatusLike } from './channel-kind.ts';
import { mappedChannels } from './columns-wanted.ts';
import { bracketedTexts, headerUnit } from './header-unit.ts';
import type { Mapping } from './mapping-schema.ts';

export interface UnitFact {
  /** As written in the header or mapping. */
  readonly unit: string;
  readonly from: 'mapping' | 'header' | 'values' | 'assumed';
}

/** The unit of each column as logged, and where it is known from. A guessed mapping names units that it found from the values. */
export function unitFacts(
  columns: readonly Column[],
  mapping: Mapping | undefined,
  /** Mapped name → the column's own name. */
  asFound: ReadonlyMap<string, string>,
  isGuessed = false,
): Map<string, UnitFact> {
  const facts = new Map<string, UnitFact>();
  for (const column of columns) {
    const stated = [column.unitText ?? '', ...bracketedTexts(column.name)].find(
      (text) => text !== '' && recogniseUnit(text),
    );
    if (stated !== undefined) facts.set(column.name, { unit: stated, from: 'header' });
  }
  const byName = new Map(columns.map((column) => [column.name, column]));
  for (const [id, source] of mapping ? mappedChannels(mapping) : []) {
    const column = byName.get(asFound.get(source.column) ?? source.column);
    if (!column || isStatusLike(id)) continue;
    const header = headerUnit(id, column);
    const reference = source.reference ? ` ${source.reference}` : '';
    if (source.unit !== undefined) {
      facts.set(column.name, { unit: source.unit + reference, from: isGuessed ? 'values' : 'mapping' });
    } else if (header && 'unit' in header) facts.set(column.name, { unit: header.text + reference, from: 'header' });
    else if (!header) facts.set(column.name, { unit: channelEntry(id).unit + reference, from: 'assumed' });
  }
  return facts;
}
