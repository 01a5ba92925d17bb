import { formatNumber } from '../kernel/format-number.ts';
import type { FailOn } from '../report/gate.ts';
import { readsOpen } from '../report/gate-reading.ts';
import { decidingFindings, leadFinding } from '../report/key-findings.ts';
import { nextSteps } from '../report/next-steps.ts';
import type { Report, Summary } from '../report/report-schema.ts';
import type { Renderer, RenderStyle } from './format.ts';
import { GUESSED_CAUTION, gateReason, gateTitle, tally } from './gate-words.ts';
import { causeLines, correctionLines, nextStepLines } from './markdown-outlook.ts';
import { missingAnswers, reasonsOnce } from './markdown-reasons.ts';
import { markdownCode as code, markdownTable, markdownText as md } from './markdown-text.ts';
import { countWords, measuredCell, rpmWords, spanWords, VERDICT_WORDS } from './terminal/words.ts';

/** For a job card or a pull request: what was decided and why, what to do next, then what it rests on. */
export function markdownRenderer({ failOn, several }: Pick<RenderStyle, 'failOn' | 'several'>): Renderer {
  return {
    each: () => '',
    end: (summary) => {
      const reports = summary.reports.map((report) => reportLines(report, failOn).join('\n'));
      const parts = several || reports.length === 0 ? [summaryLines(summary, failOn).join('\n'), ...reports] : reports;
      return `${parts.join('\n\n---\n\n')}\n`;
    },
  };
}

function summaryLines(summary: Summary, failOn: FailOn): string[] {
  const { reports, unusable } = summary;
  const open = reports.filter((report) => readsOpen(report, failOn)).length;
  const rows = [
    ...reports.map((report) => [
      `**${VERDICT_WORDS[report.gate]}**`,
      inCell(code(report.log.file)),
      [...decidingFindings(report).map(({ answer }) => answer), ...(report.requiredOpen ?? [])]
        .map(({ title }) => md(title))
        .join(', '),
    ]),
    ...unusable.map(({ file, error }) => ['**NOT READ**', inCell(code(file)), md(error)]),
  ];
  return [
    `# ${countWords(reports.length + unusable.length, 'log')}: ${countWords(open, 'gate')} open, ${reports.length - open} closed${unusable.length > 0 ? `, ${unusable.length} not read` : ''}`,
    '',
    ...markdownTable([{ name: 'Answer' }, { name: 'Log' }, { name: 'Because of' }], rows),
  ];
}

function reportLines(report: Report, failOn: FailOn): string[] {
  const open = readsOpen(report, failOn);
  const section = (title: string, body: readonly string[]) =>
    body.length === 0 ? [] : ['', `## ${title}`, '', ...body];
  return [
    `# ${gateTitle(open)}: ${code(report.log.file)}`,
    '',
    `**${VERDICT_WORDS[report.gate]}.** ${gateReason(report, open)} ${tally(report)}`,
    ...(report.mapping.guessed ? ['', `> **Caution.** ${GUESSED_CAUTION}`] : []),
    ...section('Why', [...reasonsOnce(report), ...missingAnswers(report)]),
    ...section(
      'What next',
      nextSteps(report).map((step, i) => `${i + 1}. ${md(step)}`),
    ),
    ...section('Likely causes', causeLines(report)),
    ...section('Answers', answerTable(report)),
    ...section('Pulls', pullTable(report)),
    ...section('The next step of boost', nextStepLines(report)),
    ...section('Suggested corrections', correctionLines(report)),
    ...section('What could not be judged', openQuestions(report)),
    ...section('What the passes rest on', passes(report)),
    ...section('Channels', report.mapping.guessed ? channelTable(report) : []),
    ...section('What this rests on', basis(report)),
    ...section(
      'Handback',
      report.handback.map(({ item, done }) => `- [${done ? 'x' : ' '}] ${md(item)}`),
    ),
    ...section(
      'Cautions',
      report.cautions.map((caution) => `- ${md(caution)}`),
    ),
  ];
}

/** A pipe parts cells even inside code. */
const inCell = (text: string) => text.replaceAll('|', '\\|');

function answerTable(report: Report): string[] {
  const rows = report.analysers.map((answer) => {
    const finding = leadFinding(answer);
    const { limit } = finding ?? {};
    return [
      VERDICT_WORDS[answer.verdict],
      md(answer.title),
      md(measuredCell(finding)),
      limit?.warn === undefined ? '' : md(formatNumber(limit.warn, limit.unit)),
      limit?.fail === undefined ? '' : md(formatNumber(limit.fail, limit.unit)),
    ];
  });
  const right = (name: string) => ({ name, align: 'right' as const });
  return markdownTable(
    [{ name: 'Answer' }, { name: 'Question' }, right('Measured'), right('Warn'), right('Fail')],
    rows,
  );
}

function pullTable({ pulls }: Report): string[] {
  if (pulls.length === 0) return ['No full-load pull in this log.'];
  const rows = pulls.map((pull) => [
    String(pull.id),
    spanWords(pull.start, pull.end),
    rpmWords(pull.rpm),
    pull.gear === null ? '' : String(pull.gear),
    pull.settledBoost === null ? '' : formatNumber(pull.settledBoost, 'kPa'),
    md([pull.usable ? 'usable' : 'not usable', ...pull.notes].join('; ')),
  ]);
  const names = ['Pull', 'Time', 'Engine speed', 'Gear', 'Settled boost (kPa)', 'Standing'];
  return markdownTable(
    names.map((name) => ({ name })),
    rows,
  );
}

function openQuestions({ analysers }: Report): string[] {
  return analysers.flatMap((answer) => {
    const open = answer.findings.filter(({ verdict }) => verdict === 'not-assessed');
    if (answer.verdict !== 'not-assessed' && open.length === 0 && answer.needs.length === 0) return [];
    const why = open.flatMap(({ reasoning }) => reasoning);
    const told = why.length > 0 ? why : answer.verdict === 'not-assessed' ? [answer.summary] : [];
    const needs = answer.needs.length > 0 ? [`Would help: ${answer.needs.join('; ')}.`] : [];
    return `- **${md(answer.title)}**: ${md([...told, ...needs].join(' '))}`;
  });
}

function passes({ analysers }: Report): string[] {
  return analysers
    .filter(({ verdict }) => verdict === 'pass')
    .map(({ title, summary, findings }) => {
      const detectable = [...new Set(findings.flatMap((finding) => finding.detectable ?? []))];
      return `- **${md(title)}**: ${md([summary, ...detectable.map((text) => `Detectable: ${text}`)].join(' '))}`;
    });
}

function channelTable({ channels }: Report): string[] {
  const names = ['Channel', 'Column', 'Unit', 'Hz', 'Lowest', 'Highest'];
  const number = (value: number | null, unit: string) => (value === null ? '' : formatNumber(value, unit));
  const rows = channels.map(({ id, column, unit, rate, min, max }) => [
    md(id),
    inCell(code(column)),
    md(unit),
    number(rate, 'Hz'),
    number(min, unit),
    number(max, unit),
  ]);
  return markdownTable(
    names.map((name) => ({ name })),
    rows,
  );
}

function basis({ tool, log, mapping, build, channels, notes }: Report): string[] {
  const inputs = [
    `- Log ${code(log.file)}, ${countWords(channels.length, 'channel')}, ${countWords(log.rows, 'row')}, ${log.duration.toFixed(1)} s, SHA-256 ${code(log.sha256)}`,
    `- Mapping ${code(mapping.title)}${mapping.guessed ? ' (guessed)' : ''}, SHA-256 ${code(mapping.sha256)}`,
    `- Build sheet ${code(build.title)}, SHA-256 ${code(build.sha256)}`,
    `- ${tool.name} ${md(tool.version)}`,
  ];
  const channelNotes = channels.flatMap(({ id, notes: told }) => told.map((note) => `${id}: ${note}`));
  return [...inputs, ...[...notes, ...channelNotes].map((note) => `- ${md(note)}`)];
}
