import { formatNumber } from '../../kernel/format-number.ts';
import { leadFinding } from '../../report/key-findings.ts';
import type { Report } from '../../report/report-schema.ts';
import { placeList } from '../place-list.ts';
import { measuredCell } from '../terminal/words.ts';
import { limitGauge } from './limit-gauge.ts';
import { type Content, html, type Markup } from './markup.ts';
import { htmlTable } from './table.ts';
import { verdictMark } from './verdict-mark.ts';

/** One row a question: the finding that stands for it, and where it stands against its limits. */
export function answerTable({ analysers }: Report): Markup {
  return htmlTable({
    caption: 'Every question of this run',
    label: 'Answers',
    columns: [
      { name: 'Question' },
      { name: 'Answer' },
      { name: 'Measured', number: true },
      { name: 'Warn', number: true },
      { name: 'Fail', number: true },
      { name: 'Against its limits' },
      { name: 'Where', words: true },
    ],
    rows: analysers.map((answer) => {
      const finding = leadFinding(answer);
      const { limit } = finding ?? {};
      return [
        answer.title,
        verdictMark(answer.verdict),
        measuredCell(finding),
        limit?.warn !== undefined && formatNumber(limit.warn, limit.unit),
        limit?.fail !== undefined && formatNumber(limit.fail, limit.unit),
        finding && limitGauge(finding),
        finding && placeList(finding.where, 1),
      ];
    }),
  });
}

/** What each passing answer says, and the smallest fault that it would have told. */
export function passes({ analysers }: Report): Markup {
  const items = analysers
    .filter(({ verdict }) => verdict === 'pass')
    .map(({ title, summary, findings }) => {
      const detectable = [...new Set(findings.flatMap((finding) => finding.detectable ?? []))];
      return html`<li><b>${title}:</b> ${summary}${detectable.length > 0 && html` Detectable: ${lines(detectable)}`}</li>
`;
    });
  return list(items);
}

/** Questions that stayed open, why, and what would let them be answered. */
export function openQuestions({ analysers }: Report): Markup {
  const items = analysers.flatMap((answer) => {
    const open = answer.findings.filter(({ verdict }) => verdict === 'not-assessed');
    if (answer.verdict !== 'not-assessed' && open.length === 0 && answer.needs.length === 0) return [];
    const why = open.flatMap(({ reasoning }) => reasoning);
    const told = why.length > 0 ? why : answer.verdict === 'not-assessed' ? [answer.summary] : [];
    const needs = answer.needs.length > 0 && html` <b>Would help:</b> ${answer.needs.join('; ')}.`;
    return html`<li><b>${answer.title}:</b> ${lines(told)}${needs}</li>
`;
  });
  return list(items);
}

const FEW = 2;

/** A few sentences in a row, more of them as a list. */
function lines(texts: readonly string[]): Content {
  return texts.length > FEW ? html`<ul>${texts.map((text) => html`<li>${text}</li>`)}</ul>` : texts.join(' ');
}

export function list(items: readonly Markup[]): Markup {
  return items.length === 0
    ? { markup: '' }
    : html`<ul>${items}</ul>
`;
}
