import type { Finding } from '../analysers/finding.ts';
import { hasCrash } from '../report/answer.ts';
import type { FailOn } from '../report/gate.ts';
import { readsOpen } from '../report/gate-reading.ts';
import { leadFinding } from '../report/key-findings.ts';
import type { AnalyserAnswer, Report, Summary } from '../report/report-schema.ts';
import type { Renderer, RenderStyle } from './format.ts';
import { gateReason } from './gate-words.ts';
import { placeList } from './place-list.ts';
import { printable } from './terminal/printable.ts';
import { limitWords, measuredWords } from './terminal/words.ts';
import { xmlAttribute, xmlText } from './xml-text.ts';

/** The schema wants a time, a host and durations. Reports of the same inputs are the same bytes, so these are neutral and fixed. */
const NEUTRAL = { timestamp: '1970-01-01T00:00:00', hostname: 'localhost', time: '0' } as const;
const NEUTRAL_NOTE = 'timestamp, hostname and time are fixed: the same inputs give the same bytes';

interface Case {
  readonly name: string;
  readonly outcome: 'passed' | 'failure' | 'error' | 'skipped';
  readonly type: string;
  readonly message: string;
  readonly detail: string;
}

interface Suite {
  readonly name: string;
  readonly properties: readonly (readonly [string, string])[];
  readonly cases: readonly Case[];
  readonly out: string;
}

/** JUnit XML as the Apache Ant schema has it: a log is a test suite, an analyser a test case. */
export function junitRenderer({ failOn }: Pick<RenderStyle, 'failOn'>): Renderer {
  return { each: () => '', end: (summary) => document(summary, failOn) };
}

function document({ reports, unusable }: Summary, failOn: FailOn): string {
  const suites = [...reports.map((report) => reportSuite(report, failOn)), ...unusable.map(unusableSuite)];
  const lines = suites.flatMap(suiteLines);
  return `${['<?xml version="1.0" encoding="UTF-8"?>', '<testsuites>', ...lines, '</testsuites>'].join('\n')}\n`;
}

function reportSuite(report: Report, failOn: FailOn): Suite {
  const answers = report.analysers.map((answer) => answerCase(answer, failOn));
  return {
    name: report.log.file,
    properties: [
      ['pullgate.version', report.tool.version],
      ['gate', report.gate],
      ['log.sha256', report.log.sha256],
      ['mapping.sha256', report.mapping.sha256],
      ['build.sha256', report.build.sha256],
    ],
    cases: [...answers, ...closedGate(report, answers, failOn)],
    out: report.analysers
      .filter(({ verdict }) => verdict === 'warn' && failOn !== 'warn')
      .map(warning)
      .join('\n'),
  };
}

/** A gate can be closed although no answer failed: nothing could be assessed, or a required answer is open. That must not look green. */
function closedGate(report: Report, answers: readonly Case[], failOn: FailOn): Case[] {
  const told = answers.some(({ outcome }) => outcome === 'failure' || outcome === 'error');
  if (told || readsOpen(report, failOn)) return [];
  const message = `The gate is closed. ${gateReason(report, false)}`;
  return [{ name: 'gate', outcome: 'failure', type: report.gate, message, detail: report.notes.join('\n') }];
}

function answerCase(answer: AnalyserAnswer, failOn: FailOn): Case {
  const { id, verdict, summary } = answer;
  const base = { name: id, type: verdict, message: summary, detail: '' };
  if (hasCrash({ analysers: [answer] })) {
    const told = answer.findings.flatMap(({ reasoning }) => reasoning);
    return { ...base, outcome: 'error', type: 'crashed', detail: told.join('\n') };
  }
  if (verdict === 'not-assessed') return { ...base, outcome: 'skipped', message: openReason(answer) };
  if (verdict === 'fail' || (verdict === 'warn' && failOn === 'warn')) {
    return { ...base, outcome: 'failure', detail: findingsText(answer) };
  }
  return { ...base, outcome: 'passed' };
}

function openReason({ summary, findings, needs }: AnalyserAnswer): string {
  const why = findings.flatMap((finding) => finding.reasoning);
  const help = needs.length > 0 ? [`Would help: ${needs.join('; ')}.`] : [];
  return [...(why.length > 0 ? why : [summary]), ...help].join(' ');
}

function warning(answer: AnalyserAnswer): string {
  return `WARN ${answer.id}: ${answer.summary}\n${findingsText(answer)}`;
}

function findingsText(answer: AnalyserAnswer): string {
  const lead = leadFinding(answer);
  const grave = answer.findings.filter(({ verdict }) => verdict === 'fail' || verdict === 'warn');
  const ordered = grave.toSorted((a, b) => Number(b === lead) - Number(a === lead));
  return ordered.flatMap(findingLines).join('\n');
}

function findingLines({ id, verdict, title, measured, limit, reasoning, where, next }: Finding): string[] {
  return [
    `${id} ${verdict}: ${title}`,
    ...(measured ? [`  measured: ${measuredWords(measured, limit)}`] : []),
    ...(limit ? [`  limit: ${limitWords(limit)} (${limit.source})`] : []),
    ...(where.length > 0 ? [`  where: ${placeList(where)}`] : []),
    ...reasoning.map((line) => `  because: ${line}`),
    ...next.map((step) => `  next: ${step}`),
  ];
}

function unusableSuite({ file, error }: Summary['unusable'][number]): Suite {
  const read: Case = { name: 'read', outcome: 'error', type: 'unusable', message: error, detail: error };
  return { name: file, properties: [], cases: [read], out: '' };
}

function suiteLines({ name, properties, cases, out }: Suite, id: number): string[] {
  const count = (outcome: Case['outcome']) => String(cases.filter((one) => one.outcome === outcome).length);
  const head = attributes({
    name,
    package: 'pullgate',
    id: String(id),
    ...NEUTRAL,
    tests: String(cases.length),
    failures: count('failure'),
    errors: count('error'),
    skipped: count('skipped'),
  });
  return [
    `  <testsuite${head}>`,
    '    <properties>',
    ...[...properties, ['note', NEUTRAL_NOTE]].map(
      ([key, value]) => `      <property${attributes({ name: key, value })}/>`,
    ),
    '    </properties>',
    ...cases.flatMap((one) => caseLines(one, name)),
    `    <system-out>${xmlText(seen(out))}</system-out>`,
    '    <system-err></system-err>',
    '  </testsuite>',
  ];
}

function caseLines({ name, outcome, type, message, detail }: Case, log: string): string[] {
  const head = `    <testcase${attributes({ name, classname: log, time: NEUTRAL.time })}`;
  if (outcome === 'passed') return [`${head}/>`];
  const child =
    outcome === 'skipped'
      ? `      <skipped${attributes({ message })}/>`
      : `      <${outcome}${attributes({ type, message })}>${xmlText(seen(detail))}</${outcome}>`;
  return [`${head}>`, child, '    </testcase>'];
}

function attributes(values: Readonly<Record<string, string>>): string {
  return Object.entries(values)
    .map(([key, value]) => ` ${key}="${xmlAttribute(printable(value))}"`)
    .join('');
}

/** Hidden and control characters made plain, line by line. */
function seen(text: string): string {
  return text.split('\n').map(printable).join('\n');
}
