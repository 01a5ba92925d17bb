import { UserError } from '../kernel/user-error.ts';
import { atLine } from './read-options.ts';
import type { TableBuilder } from './table-builder.ts';

/**
 * Refuses a row that looks like another header: several stray texts are column names, or every column of numbers and
 * times holds a different word. A second log with other columns begins there, and its cells would land under wrong names.
 * @param cells of the row
 */
export function refuseOtherHeader(builder: TableBuilder, cells: number): void {
  const { columns, kept, keptNames } = builder;
  const texts = new Set<string>();
  let measured = 0;
  let strays = 0;
  let known = 0;
  for (const field of kept) {
    if (field >= cells) break;
    const column = columns[field];
    if (!column || column.kind === 'text') continue;
    measured++;
    const code = column.codes?.[builder.row] ?? -1;
    if (code < 0) continue;
    strays++;
    const text = column.labelTexts[code];
    if (/^[\p{L}_]/u.test(text)) texts.add(text);
    if (keptNames.has(text)) known++;
  }
  const severalNames = known >= 2 && known >= strays / 2;
  const allStray = strays === measured && texts.size === strays && (known > 0 || strays >= 3);
  const nothingElse = allStray && kept.every((field) => field < cells || columns[field]?.kind === 'text');
  if (!severalNames && !nothingElse) return;
  throw new UserError(
    'a second header with other columns begins here.',
    atLine(builder.fileName, builder.line),
    'The file holds several logs: split it there into one file each.',
  );
}
