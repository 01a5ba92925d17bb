import type { Outcome } from '../report/summarise.ts';
import type { Renderer } from './format.ts';

/** A line a log as each ends, in input order. Whoever asks for the end alone, such as a folder's summary, gets every line there. */
export function ndjsonRenderer(): Renderer {
  let told = false;
  return {
    each: (outcome) => {
      told = true;
      return line(outcome);
    },
    end: ({ reports, unusable }) => {
      if (told) return '';
      const outcomes: Outcome[] = [
        ...reports.map((report) => ({ report })),
        ...unusable.map((log) => ({ unusable: log })),
      ];
      return outcomes.map(line).join('');
    },
  };
}

/** JSON has no raw line break inside a text, so one object is one line; U+2028 and U+2029 are escaped for readers that break there. */
function line(outcome: Outcome): string {
  const object = 'report' in outcome ? outcome.report : { pullgate: 'unusable/1', ...outcome.unusable };
  return `${JSON.stringify(object).replace(/[\u2028\u2029]/g, (mark) => `\\u${mark.charCodeAt(0).toString(16)}`)}\n`;
}
