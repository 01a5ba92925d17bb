import { formatNumber } from '../../kernel/format-number.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { countWords } from './words.ts';
import { wrap } from './wrap.ts';

const HASH_SHOWN = 12;
/** More sentences than these stand below each other. */
const MOST_IN_A_LINE = 2;

/** Questions that stayed open, why, and what would let them be answered. */
export function openQuestions({ analysers }: Report, width: number): string[] {
  return analysers.flatMap((answer) => {
    const open = answer.findings.filter((finding) => finding.verdict === 'not-assessed');
    if (answer.verdict !== 'not-assessed' && open.length === 0 && answer.needs.length === 0) return [];
    const why = [...new Set(open.flatMap((finding) => finding.reasoning))];
    const needs = answer.needs.length > 0 ? [`Would help: ${answer.needs.join('; ')}.`] : [];
    const short = why.length > 0 && why.length <= MOST_IN_A_LINE;
    const summary = answer.verdict === 'not-assessed' || why.length > 0 ? [answer.summary] : [];
    const told = [...(short ? why : summary), ...needs];
    return [
      ...wrap(`${answer.title}: ${told.join(' ')}`, width, { first: '  - ', rest: '    ' }),
      ...(short ? [] : why.flatMap((text) => wrap(text, width, { first: '    - ', rest: '      ' }))),
    ];
  });
}

/** The channels as they were read; shown where columns were guessed, so that the guess can be checked. */
export function channelTable({ channels }: Report, width: number, paint: Paint): string[] {
  const number = (value: number | null, unit: string) => (value === null ? '' : formatNumber(value, unit));
  const rows = channels.map((channel) => [
    channel.id,
    channel.column,
    channel.unit,
    number(channel.rate, 'Hz'),
    `${Math.round(channel.coverage * 100)} %`,
    number(channel.min, channel.unit),
    number(channel.max, channel.unit),
  ]);
  return textTable(CHANNEL_COLUMNS, rows, width, paint.faint);
}

const CHANNEL_COLUMNS = [
  { name: 'Channel' },
  { name: 'Column' },
  { name: 'Unit' },
  { name: 'Hz', align: 'right' },
  { name: 'Cover', align: 'right' },
  { name: 'Lowest', align: 'right' },
  { name: 'Highest', align: 'right' },
] as const;

export function basis(report: Report, width: number): string[] {
  const { log, mapping, build } = report;
  const inputs = [
    `Log: ${log.file}, ${countWords(report.channels.length, 'channel')}, ${countWords(log.rows, 'row')}, ${log.duration.toFixed(1)} s, SHA-256 ${log.sha256.slice(0, HASH_SHOWN)}…`,
    `Mapping: ${mapping.title}${mapping.guessed ? ' (guessed)' : ''}, SHA-256 ${mapping.sha256.slice(0, HASH_SHOWN)}…`,
    `Build sheet: ${build.title}, SHA-256 ${build.sha256.slice(0, HASH_SHOWN)}…`,
  ];
  const channelNotes = report.channels.flatMap(({ id, notes }) => notes.map((note) => `${id}: ${note}`));
  return [...inputs, ...report.notes, ...channelNotes].flatMap((text) =>
    wrap(text, width, { first: '  - ', rest: '    ' }),
  );
}

export function handback({ handback: items }: Report, width: number): string[] {
  return items.flatMap(({ item, done }) =>
    wrap(item, width, { first: done ? '  [done] ' : '  [open] ', rest: '         ' }),
  );
}

export function cautions({ cautions: texts }: Report, width: number): string[] {
  return texts.flatMap((text) => wrap(text, width, { first: '  - ', rest: '    ' }));
}
