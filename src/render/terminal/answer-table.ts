import type { Finding } from '../../analysers/finding.ts';
import { formatNumber } from '../../kernel/format-number.ts';
import { leadFinding } from '../../report/key-findings.ts';
import type { AnalyserAnswer, Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { textTable } from './text-table.ts';
import { measuredCell, VERDICT_WORDS } from './words.ts';
import { wrap } from './wrap.ts';

/** From here on there is room for where it was seen. */
const WIDE = 110;

/** One row a question: the finding that stands for it, and its limits. */
export function answerTable(report: Report, width: number, paint: Paint): string[] {
  const wide = width >= WIDE;
  const columns = [
    { name: 'Answer' },
    { name: 'Question' },
    { name: 'Measured', align: 'right' as const },
    { name: 'Warn', align: 'right' as const },
    { name: 'Fail', align: 'right' as const },
    ...(wide ? [{ name: 'Where' }] : []),
  ];
  const rows = report.analysers.map((answer) => row(answer, wide));
  return textTable(columns, rows, width, paint.faint).map((line) => paintWord(line, paint));
}

/** What each passing answer says, and the smallest fault that it would have told. */
export function passes(report: Report, width: number): string[] {
  return report.analysers
    .filter((answer) => answer.verdict === 'pass')
    .flatMap(({ title, summary, findings }) => {
      const detectable = new Set(findings.flatMap((finding) => finding.detectable ?? []));
      return [
        ...wrap(`${title}: ${summary}`, width, { first: '  - ', rest: '    ' }),
        ...[...detectable].flatMap((text) => wrap(`Detectable: ${text}`, width, { first: '    - ', rest: '      ' })),
      ];
    });
}

function row(answer: AnalyserAnswer, wide: boolean): string[] {
  const finding = leadFinding(answer);
  const { limit } = finding ?? {};
  return [
    VERDICT_WORDS[answer.verdict],
    answer.title,
    measuredCell(finding),
    limit?.warn === undefined ? '' : formatNumber(limit.warn, limit.unit),
    limit?.fail === undefined ? '' : formatNumber(limit.fail, limit.unit),
    ...(wide ? [finding ? shortPlace(finding) : ''] : []),
  ];
}

function shortPlace({ where: [place] }: Finding): string {
  if (!place) return '';
  const time = `${place.start.toFixed(1)} s`;
  return place.pull === undefined ? time : `pull ${place.pull}, ${time}`;
}

function paintWord(line: string, paint: Paint): string {
  for (const [verdict, word] of Object.entries(VERDICT_WORDS)) {
    if (line.startsWith(word))
      return paint.verdict(verdict as keyof typeof VERDICT_WORDS, word) + line.slice(word.length);
  }
  return line;
}
