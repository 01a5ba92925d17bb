import type { Finding } from '../../analysers/finding.ts';
import { decidingFindings, graveFindings, type KeyFinding, leadFinding } from '../../report/key-findings.ts';
import { nextSteps } from '../../report/next-steps.ts';
import type { AnalyserAnswer, Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { limitWords, measuredWords, placeWords, requiredTitle, VERDICT_WORDS } from './words.ts';
import { wrap } from './wrap.ts';

const INDENT = '      ';
const CAUSE_INDENT = { first: INDENT, rest: `${INDENT}  ` };
const TOP_REASONS = 2;
const TOP_STEPS = 5;
const TOP_PLACES = 3;

/** The one or two findings that decide the gate, and every required answer that is missing. */
export function mainReasons(report: Report, width: number, paint: Paint): string[] {
  const deciding = decidingFindings(report);
  const lines = deciding.slice(0, TOP_REASONS).flatMap((key) => reasonLines(key, width, paint));
  const others = deciding.slice(TOP_REASONS).map(({ answer }) => `${answer.title} (${answer.verdict})`);
  return [
    ...lines,
    ...(others.length === 0 ? [] : wrap(`Also: ${others.join(', ')}.`, width, { first: INDENT, rest: INDENT })),
    ...(report.requiredOpen ?? []).flatMap(({ title, why }) => [
      ...wrap(requiredTitle(title), width, { first: 'OPEN  ', rest: INDENT }).map(paint.strong),
      ...wrap(why, width, { first: INDENT, rest: INDENT }),
    ]),
  ];
}

/** Every warning and failing finding, without its derivation. */
export function allReasons(report: Report, width: number, paint: Paint): string[] {
  return graveFindings(report).flatMap((key) => reasonLines(key, width, paint));
}

/** The first few steps. */
export function whatNext(report: Report, width: number): string[] {
  return stepLines(nextSteps(report).slice(0, TOP_STEPS), 1, width);
}

/** The steps that `whatNext` left for later. */
export function furtherSteps(report: Report, width: number): string[] {
  return stepLines(nextSteps(report).slice(TOP_STEPS), TOP_STEPS + 1, width);
}

function stepLines(steps: readonly string[], firstNumber: number, width: number): string[] {
  return steps.flatMap((step, i) =>
    wrap(step, width, { first: `${String(firstNumber + i).padStart(3)}. `, rest: '     ' }),
  );
}

/** How each warning and failing finding was reached and what may have caused it. */
export function derivations(report: Report, width: number, paint: Paint): string[] {
  const told = new Set<string>();
  const isNew = (line: string) => !told.has(line) && told.add(line);
  return graveFindings(report).flatMap(({ answer, finding }, i) => [
    ...(i > 0 ? [''] : []),
    ...titleLines(finding, `${finding.title} [${finding.id}]`, width, paint),
    ...summaryLines(answer, finding, width),
    ...finding.reasoning.flatMap((step) => bullet(step, width)),
    ...(finding.where.length > 0 ? placeLines(finding, Number.POSITIVE_INFINITY, width) : []),
    ...finding.causes
      .map(causeWords)
      .filter(isNew)
      .flatMap((text) => wrap(text, width, CAUSE_INDENT)),
  ]);
}

/** The analyser's sentence once, with the finding that decided it, and not where the title says the same. */
function summaryLines(answer: AnalyserAnswer, finding: Finding, width: number): string[] {
  if (finding !== leadFinding(answer) || answer.summary.startsWith(finding.title)) return [];
  return wrap(answer.summary, width, { first: INDENT, rest: INDENT });
}

function reasonLines({ finding }: KeyFinding, width: number, paint: Paint): string[] {
  const { measured, limit, where } = finding;
  const numbers = measured
    ? `${measuredWords(measured, limit)}${limit ? `; ${limitWords(limit)}` : ''}.`
    : (finding.reasoning[finding.reasoning.length - 1] ?? '');
  return [
    ...titleLines(finding, finding.title, width, paint),
    ...wrap(numbers, width, { first: INDENT, rest: INDENT }),
    ...(where.length > 0 ? placeLines(finding, TOP_PLACES, width) : []),
  ];
}

function titleLines(finding: Finding, title: string, width: number, paint: Paint): string[] {
  const [first, ...rest] = wrap(title, width, { first: INDENT, rest: INDENT });
  const word = VERDICT_WORDS[finding.verdict];
  return [paint.verdict(finding.verdict, word) + paint.strong(first.slice(word.length)), ...rest.map(paint.strong)];
}

function placeLines({ where }: Finding, most: number, width: number): string[] {
  const shown = where.slice(0, most).map(placeWords).join('; ');
  const more = where.length > most ? `; and ${where.length - most} more` : '';
  return wrap(`Where: ${shown}${more}.`, width, { first: INDENT, rest: `${INDENT}       ` });
}

function causeWords(cause: Finding['causes'][number]): string {
  const evidence = [...cause.for.map((text) => `for: ${text}`), ...cause.against.map((text) => `against: ${text}`)];
  return `Possible cause: ${cause.cause}${evidence.length > 0 ? ` (${evidence.join('; ')})` : ''}`;
}

function bullet(text: string, width: number): string[] {
  return wrap(text, width, { first: `${INDENT}- `, rest: `${INDENT}  ` });
}
