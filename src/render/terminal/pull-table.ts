import { formatNumber, groupThousands } from '../../kernel/format-number.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { wrap } from './wrap.ts';

const COLUMNS = [
  { name: 'Pull', align: 'right' },
  { name: 'From (s)', align: 'right' },
  { name: 'To (s)', align: 'right' },
  { name: 'From (rpm)', align: 'right' },
  { name: 'To (rpm)', align: 'right' },
  { name: 'Gear', align: 'right' },
  { name: 'Settled boost (kPa)', align: 'right' },
  { name: 'Usable', align: 'left' },
] as const;

/** Every full-load pull, and below the table what is to be said of single ones. */
export function pullTable({ pulls }: Report, width: number, paint: Paint): string[] {
  if (pulls.length === 0) return ['No full-load pull in this log.'];
  const rows = pulls.map((pull) => [
    String(pull.id),
    pull.start.toFixed(1),
    pull.end.toFixed(1),
    groupThousands(pull.rpm[0]),
    groupThousands(pull.rpm[1]),
    pull.gear === null ? '' : String(pull.gear),
    pull.settledBoost === null ? '' : formatNumber(pull.settledBoost, 'kPa'),
    pull.usable ? 'yes' : 'no',
  ]);
  const notes = pulls.flatMap((pull) =>
    pull.notes.flatMap((note) => wrap(`Pull ${pull.id}: ${note}`, width, { first: '  ', rest: '    ' })),
  );
  return [...textTable(COLUMNS, rows, width, paint.faint), ...notes];
}
