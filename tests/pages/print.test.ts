import { expect, it } from 'vitest';
import { demoPages, describeInBrowser } from './browser.ts';
import { outlineOf } from './pdf-outline.ts';

const pages = demoPages();
/** Widths between the margins of 13 mm, px of 1/96 inch. ISO 216: A4 is 210 mm wide; ANSI/ASME Y14.1: Letter is 8.5 inches. */
const PAPERS = [
  { format: 'A4', points: [595, 842], innerPx: Math.floor(((210 - 26) / 25.4) * 96) },
  { format: 'Letter', points: [612, 792], innerPx: Math.floor(((215.9 - 26) / 25.4) * 96) },
] as const;
const PAPER_RUNS = pages.flatMap(([name, text]) => PAPERS.map((paper) => [name, paper.format, paper, text] as const));
/** How far below the upper edge a page's first heading may stand: the margin of 14 mm and the section's rule, points. */
const AT_TOP = 70;

describeInBrowser('the page on paper', ({ open }) => {
  it.each(PAPER_RUNS)(
    '%s on %s: the handback record is the last page of its log, alone',
    async (_name, _format, paper, text) => {
      const { page } = await open(text);
      const pdf = await page.pdf({ format: paper.format, outline: true, tagged: true });
      const { headings, pageCount, size } = outlineOf(pdf);
      expect(size.map(Math.floor)).toEqual(paper.points);
      const records = headings.filter(({ title }) => title === 'Handback record');
      const logs = headings.filter(({ title }) => title.startsWith('GATE '));
      expect(records).toHaveLength(text.match(/class="part handback"/g)?.length ?? 0);
      for (const record of records) {
        expect(size[1] - record.top).toBeLessThan(AT_TOP);
        const next = logs.find(({ page: at }) => at > record.page);
        expect(record.page).toBe((next?.page ?? pageCount) - 1);
        const above = headings.filter((one) => one.page === record.page && one.top > record.top);
        expect(above).toEqual([]);
      }
    },
  );

  it.each(PAPER_RUNS)(
    '%s on %s: nothing is cut off at the right, nothing is left to scroll',
    async (_name, _format, paper, text) => {
      const { page } = await open(text, { viewport: { width: paper.innerPx, height: 900 } });
      await page.emulateMedia({ media: 'print' });
      const out = await page.evaluate(() =>
        [...document.querySelectorAll('body *')]
          .filter((one) => {
            const { right, width } = one.getBoundingClientRect();
            return width > 0 && right > document.documentElement.clientWidth + 1;
          })
          .map((one) => one.outerHTML.slice(0, 120)),
      );
      expect(out).toEqual([]);
    },
  );

  it('has handback records among the demo logs', () => {
    expect(pages.filter(([, text]) => text.includes('class="part handback"')).length).toBeGreaterThan(2);
  });

  it('prints dark ink on white paper, whatever the screen', async () => {
    const { page } = await open(pages[0][1], { colorScheme: 'dark' });
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const [ink, paper] = await page.evaluate(() => {
      const { color, backgroundColor } = getComputedStyle(document.body);
      return [color, backgroundColor];
    });
    expect((ink.match(/\d+/g) ?? []).slice(0, 3).every((part) => Number(part) < 90)).toBe(true);
    expect(paper).toBe('rgba(0, 0, 0, 0)');
  });
});
