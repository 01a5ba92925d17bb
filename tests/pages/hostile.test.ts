import { expect, it } from 'vitest';
import { junitRenderer } from '../../src/render/junit.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleTraces } from '../support/sample-traces.ts';
import { describeInBrowser, pageOf } from './browser.ts';

const outcomesOf = (text: string): Outcome[] => [
  { report: hostileReport(text), traces: sampleTraces(text) },
  { unusable: { file: text, error: text } },
];
/** The page without its policy: whatever would run could run. */
const unguarded = (page: string) => page.replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/, '');

describeInBrowser('words made to do harm, in a browser', ({ open }) => {
  it.each(HOSTILE_TEXTS)('run nothing, even without the policy: %j', async (hostile) => {
    const text = pageOf(outcomesOf(hostile), true);
    expect(unguarded(text)).not.toBe(text);
    const { page, said, asked } = await open(unguarded(text));
    await page.waitForTimeout(50);
    expect([...said, ...asked]).toEqual([]);
    const seen = await page.evaluate(() => {
      const all = [...document.querySelectorAll('*')];
      return {
        title: document.title,
        alive: all
          .map(({ localName }) => localName)
          .filter((name) => /^(script|img|iframe|object|embed|link|form|base)$/.test(name)),
        handlers: all.flatMap((one) => [...one.attributes]).filter(({ name }) => /^on/i.test(name)).length,
        links: [...document.links]
          .map((link) => link.getAttribute('href') ?? '')
          .filter((href) => !href.startsWith('#')),
      };
    });
    expect(seen).toEqual({ title: 'pullgate: 2 logs', alive: [], handlers: 0, links: [] });
  });

  it('are words to the reader: what was given is what is shown', async () => {
    const hostile = HOSTILE_TEXTS[0];
    const { page } = await open(pageOf(outcomesOf(hostile), true));
    expect(await page.locator('body').textContent()).toContain(hostile);
  });

  it.each(HOSTILE_TEXTS)("leave JUnit XML well formed for the browser's XML parser: %j", async (hostile) => {
    const { page } = await open('<!doctype html><title>x</title>');
    const xml = junitRenderer({ failOn: 'warn' }).end(summarise(outcomesOf(hostile)));
    const seen = await page.evaluate((text) => {
      const parsed = new DOMParser().parseFromString(text, 'application/xml');
      return {
        root: parsed.documentElement.localName,
        error: parsed.querySelector('parsererror')?.textContent ?? '',
        names: [...new Set([...parsed.querySelectorAll('*')].map(({ localName }) => localName))].sort(),
      };
    }, xml);
    expect(seen).toMatchObject({ root: 'testsuites', error: '' });
    expect(seen.names).toEqual([
      'error',
      'failure',
      'properties',
      'property',
      'skipped',
      'system-err',
      'system-out',
      'testcase',
      'testsuite',
      'testsuites',
    ]);
  });
});
