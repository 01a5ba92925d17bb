import { didYouMean } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';
import type { Format } from './format.ts';

/** Every format there is. To add one, write its file and name it here. */
export const FORMATS: readonly Format[] = [
  {
    id: 'terminal',
    extension: 'txt',
    title: 'text for people',
    drawsCourses: true,
    open: async (style) => (await import('./terminal/render-terminal.ts')).terminalRenderer(style),
  },
  {
    id: 'json',
    extension: 'json',
    title: 'one JSON object, for programs',
    open: async (style) => (await import('./json.ts')).jsonRenderer(style),
  },
  {
    id: 'ndjson',
    extension: 'ndjson',
    title: 'a line of JSON a log, as each ends',
    open: async () => (await import('./ndjson.ts')).ndjsonRenderer(),
  },
  {
    id: 'junit',
    extension: 'xml',
    title: 'JUnit XML, for build servers',
    open: async (style) => (await import('./junit.ts')).junitRenderer(style),
  },
  {
    id: 'markdown',
    extension: 'md',
    title: 'for a job card or a pull request',
    open: async (style) => (await import('./markdown.ts')).markdownRenderer(style),
  },
  {
    // Before csv: the first format whose extension fits tells what goes into a file.
    id: 'corrections-csv',
    extension: 'corrections.csv',
    title: 'suggested corrections of fuelling, a row a cell, for trained people',
    open: async () => (await import('./corrections-csv.ts')).correctionsCsvRenderer(),
  },
  {
    id: 'csv',
    extension: 'csv',
    inFolder: 'findings.csv',
    title: 'a row a finding, for spreadsheets',
    open: async () => (await import('./csv.ts')).csvRenderer(),
  },
  {
    id: 'html',
    extension: 'html',
    drawsTraces: true,
    title: 'one page with pictures, for screen and paper',
    open: async (style) => (await import('./html/render-html.ts')).htmlRenderer(style),
  },
];

export function formatNamed(id: string): Format {
  const format = FORMATS.find((candidate) => candidate.id === id);
  if (format) return format;
  const ids = FORMATS.map((candidate) => candidate.id);
  const byExtension = FORMATS.find(({ extension }) => extension === id.replace(/^\./, '').toLowerCase());
  const meant = byExtension
    ? `Did you mean "${byExtension.id}", whose files end in .${byExtension.extension}?`
    : didYouMean(id, ids);
  throw new UserError(
    `There is no format "${id}".`,
    '--format',
    [meant, `Formats are: ${ids.join(', ')}.`].filter(Boolean).join(' '),
  );
}
