import { mapTexts } from '../../report/map-texts.ts';
import type { PullCourses } from '../../report/pull-courses.ts';
import type { Report } from '../../report/report-schema.ts';
import type { Outcome } from '../../report/summarise.ts';
import type { Renderer, RenderStyle } from '../format.ts';
import { answerTable, passes } from './answer-table.ts';
import { basis, cautions, channelTable, handback, openQuestions } from './background.ts';
import { correctionTable } from './correction-table.ts';
import { dataTables } from './data-tables.ts';
import { handbackPage } from './handback-page.ts';
import { headline } from './headline.ts';
import { likelyCauses } from './likely-causes.ts';
import { nextStepLines } from './next-step.ts';
import { type Paint, paintFor } from './paint.ts';
import { printable } from './printable.ts';
import { pullCourseLines } from './pull-course-lines.ts';
import { pullTable } from './pull-table.ts';
import { allReasons, derivations, furtherSteps, mainReasons, whatNext } from './reasons.ts';
import { summaryTable } from './summary-table.ts';
import { wrap } from './wrap.ts';

const NARROWEST = 60;
const WIDEST = 200;
const NOT_READ = 'NOT READ  ';

export async function terminalRenderer(style: RenderStyle): Promise<Renderer> {
  const paint = await paintFor(style.colour);
  const width = Math.min(WIDEST, Math.max(NARROWEST, style.width));
  return {
    each: (outcome) => `${eachLines(outcome, style, width, paint).join('\n')}\n`,
    end: (summary) =>
      style.several ? `${summaryTable(mapTexts(summary, printable), style.failOn, width, paint).join('\n')}\n` : '',
  };
}

function eachLines(outcome: Outcome, style: RenderStyle, width: number, paint: Paint): string[] {
  const lines =
    'report' in outcome
      ? reportLines(mapTexts(outcome.report, printable), outcome.courses, style, width, paint)
      : unusableLines(mapTexts(outcome.unusable, printable), width, paint);
  return style.several ? [...lines, '', '='.repeat(width), ''] : lines;
}

function unusableLines({ error }: { error: string }, width: number, paint: Paint): string[] {
  const [first, ...rest] = wrap(error, width, { first: NOT_READ, rest: ' '.repeat(NOT_READ.length) });
  return [paint.verdict('fail', NOT_READ) + first.slice(NOT_READ.length), ...rest];
}

function reportLines(
  report: Report,
  courses: PullCourses | undefined,
  style: RenderStyle,
  width: number,
  paint: Paint,
): string[] {
  const head = headline(report, style.failOn, width, paint);
  if (style.quiet) return [...head, ...allReasons(report, width, paint)];
  const section = (title: string, body: readonly string[]) =>
    body.length === 0 ? [] : ['', paint.strong(title.toUpperCase()), ...body];
  return [
    ...head,
    ...section('Why', mainReasons(report, width, paint)),
    ...section('What next', whatNext(report, width)),
    ...section('Answers', answerTable(report, width, paint)),
    ...section('Pulls', [
      ...pullTable(report, width, paint),
      ...pullCourseLines(courses, width, style.ascii === true, paint),
    ]),
    ...section('Likely causes', likelyCauses(report, width, paint)),
    ...section('How the warnings and failures were found', derivations(report, width, paint)),
    ...section('Further steps', furtherSteps(report, width)),
    ...section('The next step of boost', nextStepLines(report, width, paint)),
    ...section('Tables', dataTables(report, width, paint)),
    ...section('Suggested corrections', correctionTable(report, width, paint)),
    ...section('What could not be judged', openQuestions(report, width)),
    ...section('What the passes rest on', passes(report, width)),
    ...section('Channels', report.mapping.guessed ? channelTable(report, width, paint) : []),
    ...section('What this rests on', basis(report, width)),
    ...section('Handback', report.handbackRecord ? [] : handback(report, width)),
    ...section('Cautions', cautions(report, width)),
    ...section('Handback record', handbackPage(report, width, paint)),
  ];
}
