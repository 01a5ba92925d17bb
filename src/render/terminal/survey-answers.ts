import type { Survey } from '../../report/survey-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { wrap } from './wrap.ts';

const WORDS = { yes: 'can', limited: 'in part', no: 'cannot' } as const;

/** Which questions this log can serve. */
export function surveyAnswers({ analysers }: Survey, width: number, paint: Paint): string[] {
  const rows = analysers.map(({ title, served, reasons }) => [title, WORDS[served], reasons.join(' ')]);
  const columns = [{ name: 'Question' }, { name: 'This log' }, { name: 'Because' }];
  return textTable(columns, rows, width, paint.faint);
}

/** Which channels would add most to the next log. */
export function surveyWanted({ wanted }: Survey, width: number): string[] {
  return wanted.flatMap(({ channel, opens, helps }) => {
    const gains = [
      opens.length > 0 ? `needed for ${opens.join(', ')}` : '',
      helps.length > 0 ? `sharpens ${helps.join(', ')}` : '',
    ];
    return wrap(`${channel}: ${gains.filter(Boolean).join('; ')}`, width, { first: '  - ', rest: '    ' });
  });
}
