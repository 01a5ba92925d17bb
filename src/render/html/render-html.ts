import { readsOpen } from '../../report/gate-reading.ts';
import type { Outcome } from '../../report/summarise.ts';
import type { Renderer, RenderStyle } from '../format.ts';
import { gateTitle } from '../gate-words.ts';
import { countWords } from '../terminal/words.ts';
import { html, type Markup } from './markup.ts';
import { pageShell } from './page-shell.ts';
import { reportPage } from './report-page.ts';
import { summaryPage } from './summary-page.ts';

/** One page: the report of one log, or of several with their summary first. */
export function htmlRenderer({ failOn, several }: Pick<RenderStyle, 'failOn' | 'several'>): Renderer {
  const pages: Markup[] = [];
  const anchors: string[] = [];
  return {
    each: (outcome: Outcome) => {
      if (!('report' in outcome)) return '';
      const prefix = several ? `log-${pages.length + 1}-` : '';
      const { report } = outcome;
      const page = reportPage({ prefix, level: several ? 2 : 1 }, report, outcome.traces ?? [], failOn);
      anchors.push(`${prefix}report`);
      pages.push(
        several
          ? html`<article class="one-log" id="${prefix}report" aria-label="${report.log.file}">
${page}</article>
`
          : page,
      );
      return '';
    },
    end: (summary) => {
      const [only] = summary.reports;
      if (!several && only) {
        const page = pages[0] ?? reportPage({ prefix: '', level: 1 }, only, [], failOn);
        return pageShell(`${gateTitle(readsOpen(only, failOn))}: ${only.log.file}`, page);
      }
      return pageShell(
        `pullgate: ${countWords(summary.reports.length + summary.unusable.length, 'log')}`,
        html`${summaryPage(summary, failOn, anchors)}${pages}`,
      );
    },
  };
}
