import { formatNumber, formatQuantity } from '../../kernel/format-number.ts';
import { type HandbackRecord, handbackRecord } from '../../report/handback-record.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { measuredWords, VERDICT_WORDS } from './words.ts';
import { wrap } from './wrap.ts';

const BULLET = { first: '  - ', rest: '    ' };

/** The record that goes into the owner's folder, on one page, to be signed. */
export function handbackPage(report: Report, width: number, paint: Paint): string[] {
  const record = handbackRecord(report);
  if (!record) return [];
  const block = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [...wrap(title, width).map(paint.strong), ...lines];
  const bullets = (texts: readonly string[]) => texts.flatMap((text) => wrap(text, width, BULLET));
  return [
    ...block(`Car: ${record.car}`, facts(record, width)),
    ...block('Evidence', sources(record, width)),
    ...block(`Answers; as a whole: ${VERDICT_WORDS[record.gate].toLowerCase()}`, verdicts(record, width)),
    ...block('Limits used (warn/fail; * set by the build sheet, the others are defaults)', limits(record, width)),
    ...block('Done', bullets(record.done)),
    ...block('Open', record.open.length > 0 ? bullets(record.open) : ['  Nothing.']),
    ...block('Cautions', bullets(record.cautions)),
    '',
    ...['Workshop', 'Owner'].map((who) => signature(who, width)),
  ];
}

function signature(who: string, width: number): string {
  const [before, between] = [who.padEnd(10), '   Date  '];
  const name = Math.min(NAME_COLUMNS, width - before.length - between.length - DATE_COLUMNS);
  return before + '_'.repeat(name) + between + '_'.repeat(DATE_COLUMNS);
}

const NAME_COLUMNS = 30;
const DATE_COLUMNS = 14;

function facts({ facts: car }: HandbackRecord, width: number): string[] {
  return car.flatMap(({ name, value }) =>
    wrap(value, width, { first: `  ${`${name}:`.padEnd(12)}`, rest: ' '.repeat(14) }),
  );
}

/** Whole hashes: a record has to be checkable. */
function sources({ sources: all }: HandbackRecord, width: number): string[] {
  return all.flatMap(({ name, title, sha256 }) => [
    ...wrap(`${name}: ${title}`, width, { first: '  ', rest: '    ' }),
    ...wrap(`SHA-256 ${sha256}`, width, { first: '    ', rest: '    ' }),
  ]);
}

function verdicts({ verdicts: all }: HandbackRecord, width: number): string[] {
  const rows = all.map(({ verdict, question, measured, limit }) => [
    `  ${VERDICT_WORDS[verdict]}`,
    question,
    measured ? measuredWords(measured, limit) : '',
  ]);
  const columns = [{ name: '  Answer' }, { name: 'Question' }, { name: 'Measured' }];
  return textTable(columns, rows, width).slice(1);
}

function limits({ limits: all }: HandbackRecord, width: number): string[] {
  const told = all.map(({ id, warn, fail, unit, from }) => {
    const value = (limit: number | undefined) =>
      limit === undefined ? '–' : formatNumber(limit, unit).replace(/\.0$/, '');
    const last = fail ?? warn;
    const sign = last === undefined ? '' : formatQuantity(last, unit).slice(formatNumber(last, unit).length);
    return `${id}${from === 'build sheet' ? '*' : ''} ${value(warn)}/${value(fail)}${sign}`;
  });
  return wrap(`${told.join('; ')}.`, width, { first: '  ', rest: '  ' });
}
