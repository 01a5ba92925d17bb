import { groupThousands } from '../../kernel/format-number.ts';
import { mapTexts } from '../../report/map-texts.ts';
import type { Survey } from '../../report/survey-schema.ts';
import { type Paint, paintFor } from './paint.ts';
import { printable } from './printable.ts';
import { surveyAnswers, surveyWanted } from './survey-answers.ts';
import { surveyColumns, surveyFaults, surveyGuesses } from './survey-columns.ts';
import { surveyTime } from './survey-time.ts';
import { countWords } from './words.ts';
import { wrap } from './wrap.ts';

export interface SurveyStyle {
  readonly width: number;
  readonly colour: 0 | 1 | 2 | 3;
  /** Draw courses with ASCII only. */
  readonly ascii: boolean;
}

const NARROWEST = 60;
const WIDEST = 200;

/** A survey for people. */
export async function renderSurvey(survey: Survey, style: SurveyStyle): Promise<string> {
  const paint = await paintFor(style.colour);
  const width = Math.min(WIDEST, Math.max(NARROWEST, style.width));
  const safe = mapTexts(survey, printable);
  const file = fileWords(safe, DELIMITERS[survey.log.dialect.delimiter]);
  return `${lines(safe, file, width, style.ascii, paint).join('\n')}\n`;
}

const DELIMITERS: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
  ' ': 'blank',
};

function fileWords({ log, columns, personalColumns }: Survey, separator: string | undefined): string[] {
  const { delimiter, encoding, decimalChar, skipRows, headerRowCount, commentPrefix } = log.dialect;
  const header =
    ['no header', 'a row of names', 'a row of names and one of units'][headerRowCount] ??
    `${headerRowCount} header rows`;
  const left = personalColumns > 0 ? ` ${countWords(personalColumns, 'personal column')} left out.` : '';
  return [
    `${groupThousands(log.rows)} rows, ${countWords(columns.length, log.layout === 'long' ? 'quantity' : 'column', log.layout === 'long' ? 'quantities' : 'columns')} beside time, ${groupThousands(log.bytes)} bytes, ${log.layout === 'long' ? 'a row per sample' : 'a column per channel'}.${left}`,
    `Cells are separated by ${separator ?? `"${delimiter}"`}, decimals by ${decimalChar === ',' ? 'comma' : 'point'}, encoded as ${encoding}${commentPrefix ? `, comments begin with "${commentPrefix}"` : ''}.`,
    `${skipRows === 0 ? 'No preamble' : `${countWords(skipRows, 'line')} of preamble`}, ${header}; data from line ${log.firstDataLine} on.`,
  ];
}

function lines(survey: Survey, file: readonly string[], width: number, ascii: boolean, paint: Paint): string[] {
  const list = (texts: readonly string[]) =>
    texts.flatMap((text) => wrap(text, width, { first: '  - ', rest: '    ' }));
  const section = (title: string, body: readonly string[]) =>
    body.length === 0 ? [] : ['', paint.strong(title.toUpperCase()), ...body];
  return [
    ...wrap(`SURVEY  ${survey.log.file}`, width).map(paint.strong),
    ...wrap(`Mapping: ${survey.mapping.title}.`, width),
    ...section('File', list(file)),
    ...section('Time', surveyTime(survey, width)),
    ...section('Columns', surveyColumns(survey, width, ascii, paint)),
    ...section('What speaks against columns', surveyFaults(survey, width)),
    ...section('Doubts about units', list(survey.doubts)),
    ...section('Questions that only you can answer', list(survey.questions)),
    ...section('What this log can answer', surveyAnswers(survey, width, paint)),
    ...section('Channels that would add most', surveyWanted(survey, width)),
    ...section('Why the columns were taken so', surveyGuesses(survey, width)),
    ...section('Notes', list(survey.notes)),
  ];
}
