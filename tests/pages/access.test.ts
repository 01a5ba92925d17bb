import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import { expect, it } from 'vitest';
import { sampleReport } from '../support/sample-report.ts';
import { sampleTraces } from '../support/sample-traces.ts';
import { demoPages, describeInBrowser, pageOf } from './browser.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const pages = demoPages();
const schemes = pages.flatMap(([name, text]) =>
  (['light', 'dark'] as const).map((shade) => [name, shade, text] as const),
);

describeInBrowser('the page for everybody', ({ open }) => {
  it.each(schemes)('%s, %s: axe-core finds nothing serious or critical', async (_name, colorScheme, text) => {
    const { page } = await open(text, { colorScheme });
    await page.evaluate(AXE);
    const { violations, passes } = await page.evaluate(() =>
      (window as unknown as { axe: typeof axe }).axe.run(document, { resultTypes: ['violations'] }),
    );
    expect(passes.length).toBeGreaterThan(10);
    const grave = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
    expect(grave.map(({ id, nodes }) => `${id}: ${nodes[0]?.html} ${nodes[0]?.failureSummary}`)).toEqual([]);
  });

  it('axe-core sees what is wrong where something is', async () => {
    const { page } = await open(pages[0][1]);
    await page.evaluate(AXE);
    const { violations } = await page.evaluate(() => {
      document.querySelector('main')?.append(document.createElement('button'));
      return (window as unknown as { axe: typeof axe }).axe.run(document);
    });
    expect(violations.map(({ id, impact }) => `${id} ${impact}`)).toContain('button-name critical');
  });

  it.each(pages)(
    '%s: the Tab key goes through everything in reading order, and shows where it is',
    async (_name, text) => {
      const { page } = await open(text);
      const stops = await page.evaluate(
        () =>
          [...document.querySelectorAll('a[href], [tabindex]')].filter((one) => (one as HTMLElement).tabIndex >= 0)
            .length,
      );
      let last = -1;
      for (let i = 0; i < stops; i++) {
        await page.keyboard.press('Tab');
        const at = await page.evaluate(() => {
          const one = document.activeElement as HTMLElement;
          const box = one.getBoundingClientRect();
          const { outlineStyle, outlineWidth } = getComputedStyle(one);
          return {
            place: [...document.querySelectorAll('*')].indexOf(one),
            name: one.getAttribute('aria-label') ?? one.textContent ?? '',
            seen: box.width > 0 && box.bottom > 0 && box.top < window.innerHeight && box.left >= 0,
            ringed: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2,
          };
        });
        expect(at).toMatchObject({ seen: true, ringed: true });
        expect(at.name.trim()).not.toBe('');
        expect(at.place).toBeGreaterThan(last);
        last = at.place;
      }
    },
  );

  it('lets the keyboard skip to the report first', async () => {
    const { page } = await open(pages[0][1]);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('href'))).toBe('#report');
    await page.keyboard.press('Enter');
    expect(page.url()).toMatch(/#report$/);
  });

  it('tells each verdict by word and outline, and each line by its dashes', async () => {
    const { analysers } = sampleReport();
    const [duty] = analysers;
    const warning = { ...duty, id: 'boost-spike', verdict: 'warn' as const };
    const report = sampleReport({ analysers: [...analysers, warning] });
    const { page } = await open(pageOf([{ report, traces: sampleTraces() }], false));
    const seen = await page.evaluate(() => {
      const marks = [...document.querySelectorAll<HTMLElement>('.verdict')].map((one) => ({
        kind: one.classList[1],
        word: one.textContent?.trim() ?? '',
        outline: one.querySelector('svg')?.innerHTML ?? '',
      }));
      const dashes = [0, 1, 2, 3, 4, 5].map((n) => {
        const path = document.createElementNS('http://www.w3.org/2000/svg', 'path');
        path.setAttribute('class', `line s${n}`);
        document.querySelector('svg.figure')?.append(path);
        return getComputedStyle(path).strokeDasharray;
      });
      return { marks, dashes };
    });
    const kinds = [...new Set(seen.marks.map(({ kind }) => kind))];
    expect(kinds.toSorted()).toEqual(['fail', 'not-assessed', 'pass', 'warn']);
    for (const kind of kinds) {
      const own = seen.marks.filter((mark) => mark.kind === kind);
      expect([...new Set(own.map(({ word }) => word))]).toEqual([kind.toUpperCase().replace('-', ' ')]);
    }
    expect(new Set(seen.marks.map(({ outline }) => outline)).size).toBe(4);
    expect(new Set(seen.dashes).size).toBe(6);
  });
});
