import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { htmlRenderer } from '../../src/render/html/render-html.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { demoOutcome } from '../support/demo-outcome.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleTraces } from '../support/sample-traces.ts';
import { findBrowser, runBrowser } from './browser.ts';

const browser = findBrowser();
const folder = mkdtempSync(join(tmpdir(), 'pullgate-pages-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const pageOf = (
  name: string,
  outcomes: readonly Outcome[],
  several: boolean,
  change = (text: string) => text,
): string => {
  const renderer = htmlRenderer({ failOn: 'fail', several });
  for (const outcome of outcomes) renderer.each(outcome);
  const path = join(folder, `${name}.html`);
  writeFileSync(path, change(renderer.end(summarise(outcomes))));
  return pathToFileURL(path).href;
};

/** Runs inside the page in place of the policy, and writes what it finds where the dumped page shows it. */
const PROBE = `<script>addEventListener('load', () => {
  const all = [...document.querySelectorAll('*')];
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  const style = getComputedStyle(document.body);
  document.body.setAttribute('data-probe', JSON.stringify({
    title: document.title,
    alive: all.filter((e) => /^(script|img|iframe|object|embed|link|form)$/i.test(e.localName) && !e.textContent.includes('data-probe')).length,
    handlers: all.flatMap((e) => [...e.attributes]).filter((a) => /^on/i.test(a.name)).length,
    requests: performance.getEntriesByType('resource').length,
    wide,
    paper: style.backgroundColor,
    ink: style.color,
    quirks: document.compatMode,
    figures: document.querySelectorAll('svg.figure').length,
  }));
});</script>`;

const probed = (url: string, options: readonly string[] = []) => {
  const { out } = runBrowser(browser as string, url, [...options, '--virtual-time-budget=3000', '--dump-dom']);
  const found = out.match(/data-probe="([^"]*)"/)?.[1];
  if (!found) throw new Error(`the page told nothing: ${out.slice(0, 300)}`);
  return JSON.parse(found.replaceAll('&quot;', '"').replaceAll('&amp;', '&'));
};

/** The page without its policy: whatever would run could run. */
const unguarded = (text: string) =>
  text.replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/, '').replace('</head>', `${PROBE}</head>`);

describe.skipIf(!browser)('the page in a browser', () => {
  const hostile: Outcome[] = HOSTILE_TEXTS.map((text) => ({ report: hostileReport(text), traces: sampleTraces(text) }));
  const demo = [demoOutcome('saloon-knock-on-one-cylinder', 'second-visit.csv')];

  it('runs nothing of what headers, titles and file names say, even without its policy', { timeout: 90_000 }, () => {
    const seen = probed(pageOf('hostile', hostile, true, unguarded));
    expect(seen).toMatchObject({ title: `pullgate: ${hostile.length} logs`, alive: 0, handlers: 0, requests: 0 });
  });

  it('accepts its own style under its policy and refuses a script', { timeout: 90_000 }, () => {
    const url = pageOf('guarded', demo, false, (text) => text.replace('</head>', `${PROBE}</head>`));
    const { out, err } = runBrowser(browser as string, url, [
      '--virtual-time-budget=2000',
      '--dump-dom',
      '--enable-logging=stderr',
    ]);
    expect(out).not.toContain('data-probe="');
    expect(err).toMatch(/Content Security Policy/);
    expect(err).not.toMatch(/style/i);
  });

  it('loads nothing, draws its pictures and fits the window, wide and narrow', { timeout: 120_000 }, () => {
    const url = pageOf('demo', demo, false, unguarded);
    const wide = probed(url, ['--window-size=1200,900']);
    expect(wide).toMatchObject({ requests: 0, wide: 0, quirks: 'CSS1Compat', figures: 10 });
    const frame = join(folder, 'narrow.html');
    writeFileSync(
      frame,
      `<!doctype html><title>x</title><iframe style="width:400px;height:800px" src="${url}"></iframe>
<script>addEventListener('load', () => { const d = document.querySelector('iframe').contentDocument;
document.body.setAttribute('data-probe', JSON.stringify({ wide: d.documentElement.scrollWidth - d.documentElement.clientWidth })); });</script>`,
    );
    expect(probed(pathToFileURL(frame).href, ['--allow-file-access-from-files'])).toEqual({ wide: 0 });
  });

  it('turns dark where the reader wants it', { timeout: 90_000 }, () => {
    const url = pageOf('shades', demo, false, unguarded);
    const light = probed(url, ['--blink-settings=preferredColorScheme=1']);
    const dark = probed(url, ['--blink-settings=preferredColorScheme=0']);
    const brightness = (colour: string) =>
      (colour.match(/\d+/g) ?? []).slice(0, 3).reduce((sum, part) => sum + Number(part), 0);
    expect(brightness(light.paper)).toBeGreaterThan(brightness(light.ink));
    expect(brightness(dark.paper)).toBeLessThan(brightness(dark.ink));
  });
});
