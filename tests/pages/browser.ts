import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, it } from 'vitest';
import { htmlRenderer } from '../../src/render/html/render-html.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { demoOutcome } from '../support/demo-outcome.ts';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'chrome'];
const DEMO = join(import.meta.dirname, '../../demo-logs');

/** A Chromium of this machine, by CHROMIUM or on the path; undefined where there is none. */
function findBrowser(): string | undefined {
  const named = process.env.CHROMIUM;
  if (named) return named;
  const folders = (process.env.PATH ?? '').split(delimiter);
  return NAMES.flatMap((name) => folders.map((folder) => join(folder, name))).find((path) => existsSync(path));
}

/** What a test opens pages with. */
export interface Reader {
  /** Opens a text as a file, with everything that the page says or asks for. */
  readonly open: (text: string, options?: BrowserContextOptions) => Promise<OpenPage>;
}

export interface OpenPage {
  readonly page: Page;
  /** Console messages and errors. */
  readonly said: readonly string[];
  /** Whatever the page asked for beside itself. */
  readonly asked: readonly string[];
  /** What of that its policy did not let out. */
  readonly refused: readonly string[];
}

/** Tests in headless Chromium. Without one they are skipped aloud, or fail where PULLGATE_PAGES=required as in `.ci/run`. */
export function describeInBrowser(title: string, tests: (reader: Reader) => void): void {
  const executablePath = findBrowser();
  const isRequired = process.env.PULLGATE_PAGES === 'required';
  if (!executablePath && isRequired) {
    it(`${title}: needs Chromium`, () => {
      throw new Error('No Chromium on the path: install it, or name it in CHROMIUM.');
    });
    return;
  }
  if (!executablePath) {
    process.stderr.write(`\nSKIPPED: ${title}. No Chromium on the path; install it, or name it in CHROMIUM.\n`);
  }
  describe.skipIf(!executablePath)(title, { timeout: 120_000 }, () => {
    let browser: Browser;
    const folder = mkdtempSync(join(tmpdir(), 'pullgate-pages-'));
    beforeAll(async () => {
      browser = await chromium.launch({ executablePath: executablePath as string });
    }, 60_000);
    afterEach(async () => {
      await Promise.all(browser.contexts().map((context) => context.close()));
    });
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });
    let pages = 0;
    tests({
      open: async (text, options = {}) => {
        const path = join(folder, `${pages++}.html`);
        writeFileSync(path, text);
        const context = await browser.newContext(options);
        const page = await context.newPage();
        const said: string[] = [];
        const asked: string[] = [];
        const refused: string[] = [];
        page.on('console', (message) => said.push(`${message.type()}: ${message.text()}`));
        page.on('pageerror', (error) => said.push(`error: ${error.message}`));
        page.on('request', (request) => {
          if (request.url() !== pathToFileURL(path).href) asked.push(request.url());
        });
        page.on('requestfailed', (request) => {
          if (request.failure()?.errorText === 'csp') refused.push(request.url());
        });
        await page.goto(pathToFileURL(path).href);
        return { page, said, asked, refused };
      },
    });
  });
}

export function pageOf(outcomes: readonly Outcome[], several: boolean): string {
  const renderer = htmlRenderer({ failOn: 'fail', several });
  const parts = outcomes.map(renderer.each);
  return parts.join('') + renderer.end(summarise(outcomes));
}

/** The report of every demo log, and one page of two of them with a log that could not be read. */
export function demoPages(): readonly (readonly [name: string, page: string])[] {
  const cars = readdirSync(DEMO, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort();
  const all = cars.flatMap((car) =>
    readdirSync(join(DEMO, car))
      .filter((file) => file.endsWith('.csv'))
      .map((file) => [`${car}/${file}`, demoOutcome(car, file)] as const),
  );
  const unread: Outcome = { unusable: { file: 'bay-3/empty.csv', error: 'bay-3/empty.csv: nothing in it.' } };
  return [
    ...all.map(([name, outcome]) => [name, pageOf([outcome], false)] as const),
    ['several logs', pageOf([...all.slice(-2).map(([, outcome]) => outcome), unread], true)],
  ];
}
