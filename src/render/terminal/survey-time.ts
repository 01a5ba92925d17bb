import { formatNumber, formatQuantity } from '../../kernel/format-number.ts';
import type { Survey, SurveyTime } from '../../report/survey-schema.ts';
import { countWords } from './words.ts';
import { wrap } from './wrap.ts';

/** How rows are filled, in a sentence. */
function pollingWords({ kind, moving, perRow, blank }: SurveyTime['polling']): string | undefined {
  const between = blank ? 'leaves the others blank' : 'repeats the others';
  if (kind === 'in turn') {
    return `The logger polls in turn: a row refreshes ${perRow} of ${moving} columns and ${between}. Rates here are those of true updates.`;
  }
  if (kind === 'held') {
    const how = blank ? 'with blank rows in between' : 'with values repeated in between';
    return `Rows come faster than values: ${moving} columns are updated together ${how}. Rates here are those of true updates.`;
  }
  return kind === 'all' ? 'Every row holds new values.' : undefined;
}

function clockWords(time: SurveyTime): string {
  if (time.interval === null || time.duration === null) {
    return time.why ? `No time column: ${time.why}.` : 'The log tells no time, so that no rate is known.';
  }
  const from = time.column === null ? '' : ` by "${time.column}"${time.unit ? ` in ${time.unit}` : ''}`;
  const why =
    time.confidence === null || time.why === null ? '' : `, ${Math.round(100 * time.confidence)} % sure: ${time.why}`;
  const rate = formatQuantity(1 / time.interval, 'Hz');
  return `${formatNumber(time.duration, '')} s${from}${why}. Usually ${formatNumber(time.interval, '')} s between different times (${rate}).`;
}

function healthWords(time: SurveyTime): string {
  if (time.interval === null) return '';
  const parts = [
    time.gaps > 0 ? `${countWords(time.gaps, 'gap')} (the longest ${formatQuantity(time.longestGap, 's')})` : 'no gap',
    time.repeats > 0 ? countWords(time.repeats, 'repeated time') : 'no repeated time',
    time.backward > 0
      ? `${countWords(time.backward, 'step')} back (the farthest ${formatQuantity(time.farthestBack, 's')})`
      : 'no step back',
    `jitter ${formatNumber(100 * (time.jitter ?? 0), '%')} % of the step`,
  ];
  return `Clock: ${parts.join(', ')}.`;
}

/** The log's clock and how its rows are filled. */
export function surveyTime({ time }: Survey, width: number): string[] {
  const texts = [clockWords(time), healthWords(time), pollingWords(time.polling), ...time.notes];
  return texts.flatMap((text) => (text ? wrap(text, width, { first: '  - ', rest: '    ' }) : []));
}
