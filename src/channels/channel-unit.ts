import { UserError } from '../kernel/user-error.ts';
import type { RecognisedUnit } from '../units/recognise-unit.ts';
import { CANONICAL_UNIT } from '../units/units.ts';
import { channelEntry } from './catalogue.ts';
import type { CellSeries } from './cell-series.ts';
import { dimensionOfChannel, isStatusLike, unitOn, unitsThatDo } from './channel-kind.ts';
import { headerUnit } from './header-unit.ts';
import { shownColumn } from './personal-column.ts';

export interface ChannelUnit {
  readonly unit: RecognisedUnit;
  readonly from: 'mapping' | 'header' | 'assumed';
  readonly notes: readonly string[];
}

/** The unit of a channel's cells: the mapping's, else the header's, else the canonical one, which is told. */
export function channelUnit({ id, source, column }: CellSeries): ChannelUnit {
  const canonical = CANONICAL_UNIT[dimensionOfChannel(id)];
  if (source.unit !== undefined) {
    const unit = unitOn(id, source.unit);
    if (!unit || unit === 'wrong') throw new Error(`${source.unit} on ${id} passed the mapping's check`);
    return { unit, from: 'mapping', notes: [] };
  }
  if (isStatusLike(id)) return { unit: { unit: canonical }, from: 'assumed', notes: [] };
  const header = headerUnit(id, column);
  const rescaled = source.scale !== undefined || source.offset !== undefined;
  const shownUnit = channelEntry(id).unit;
  if (header && 'unit' in header) {
    const twice = rescaled && Math.abs(source.scale ?? 1) !== 1 && header.unit.unit !== canonical;
    const note = `After scale and offset the values are read as ${header.text}, as the header says; state "unit" if they are not.`;
    return { unit: header.unit, from: 'header', notes: twice ? [note] : [] };
  }
  if (header && !rescaled) {
    throw new UserError(
      `the column ${shownColumn(column.name)} is in ${header.wrong}, which is no unit of ${id}.`,
      `mapping, channels.${id}`,
      `State "unit" (${unitsThatDo(id)}), or "scale" and "offset" that lead to ${shownUnit}.`,
    );
  }
  return { unit: { unit: canonical }, from: 'assumed', notes: [`No unit is stated; taken as ${shownUnit}.`] };
}
