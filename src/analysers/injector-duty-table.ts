import type { Drive } from '../drive/drive.ts';
import type { DutyPeak } from '../drive/duty/peak.ts';
import type { LivelyId } from '../drive/health/frozen.ts';
import type { DataTable } from './finding.ts';
import { frozenClause } from './frozen-pulls.ts';

/** One row a pull: its peak, or why it has none. */
export function dutyTable(drive: Drive, peaks: readonly DutyPeak[], restsOn: readonly LivelyId[] = []): DataTable {
  return {
    id: 'injector-duty.pulls',
    title: 'Peak injector duty by pull',
    columns: [
      { name: 'pull', unit: '' },
      { name: 'peak duty', unit: '%' },
      { name: 'low', unit: '%' },
      { name: 'high', unit: '%' },
      { name: 'engine speed', unit: 'rpm' },
      { name: 'time', unit: 's' },
      { name: 'updates', unit: 'count' },
      { name: 'note', unit: '' },
    ],
    rows: drive.pulls.map((pull) => {
      const peak = peaks.find((p) => p.pull === pull);
      if (peak) {
        const note = peak.carried ? 'carried to the end of the pull' : '';
        return [String(pull.id), peak.value, peak.low, peak.high, peak.rpm, peak.atS, peak.updates, note];
      }
      const why = pull.fitness.duty.ok
        ? (restsOn.map((id) => frozenClause(drive, id, pull)).find((clause) => clause) ?? 'no update in it')
        : pull.fitness.duty.why;
      return [String(pull.id), null, null, null, null, null, null, `not judged: ${why}`];
    }),
  };
}
