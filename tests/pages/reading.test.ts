import { expect, it } from 'vitest';
import { demoPages, describeInBrowser } from './browser.ts';
import { clippedOrCrossed } from './figure-text.ts';

const pages = demoPages();
const TELEPHONE = { viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true };

describeInBrowser('the page on a screen', ({ open }) => {
  it.each(pages)('%s: says nothing on the console, asks for nothing, takes its own style', async (_name, text) => {
    const { page, said, asked } = await open(text);
    expect([...said, ...asked]).toEqual([]);
    const seen = await page.evaluate(() => ({
      mode: document.compatMode,
      rules: document.styleSheets[0].cssRules.length,
      sheets: document.styleSheets.length,
      figures: document.querySelectorAll('svg.figure').length,
    }));
    expect(seen).toMatchObject({ mode: 'CSS1Compat', sheets: 1 });
    expect(seen.rules).toBeGreaterThan(50);
    expect(seen.figures).toBeGreaterThan(4);
  });

  it.each(pages.slice(0, -1))('%s: is smaller than 400 KB', (_name, text) => {
    expect(Buffer.byteLength(text)).toBeLessThan(400_000);
  });

  it('refuses by its policy whatever is put into it: script, style, picture, frame, form', async () => {
    const { page, said, asked, refused } = await open(pages[0][1]);
    const colour = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const before = await colour();
    await page.evaluate(() => {
      const parts = document.createRange().createContextualFragment(
        `<script>document.title = 'ran'</script><style>body { background: lime !important }</style>
        <img src="https://pullgate.invalid/x.png"><iframe src="https://pullgate.invalid/"></iframe>
        <form action="https://pullgate.invalid/"><input name="a"></form>`,
      );
      document.body.append(parts);
      document.querySelector('form')?.submit();
    });
    await page.waitForTimeout(300);
    expect(await page.title()).not.toBe('ran');
    expect(await colour()).toBe(before);
    expect(asked.filter((url) => url.startsWith('http') && !refused.includes(url))).toEqual([]);
    for (const directive of ['script-src', 'style-src', 'img-src', 'default-src', 'form-action']) {
      expect(said.some((text) => text.includes('Content Security Policy') && text.includes(directive))).toBe(true);
    }
  });

  it.each(pages)('%s: fits a telephone of 360 px and a window of 1,200 px', async (_name, text) => {
    for (const options of [TELEPHONE, { viewport: { width: 1200, height: 900 } }]) {
      const { page } = await open(text, options);
      const wide = await page.evaluate(() => ({
        page: document.documentElement.scrollWidth,
        window: document.documentElement.clientWidth,
        out: [...document.querySelectorAll('main *')]
          .filter((one) => !one.closest('.scroll, svg') && one.getBoundingClientRect().right > window.innerWidth + 1)
          .map((one) => one.outerHTML.slice(0, 120)),
      }));
      expect(wide).toEqual({ page: options.viewport.width, window: options.viewport.width, out: [] });
    }
  });

  it.each(pages)('%s: no letter of a picture is cut off or lies over another', async (_name, text) => {
    const { page } = await open(text, { viewport: { width: 1200, height: 900 } });
    expect(await page.evaluate(clippedOrCrossed)).toEqual([]);
  });

  it('turns dark where the reader wants it', async () => {
    const brightness = async (colorScheme: 'light' | 'dark') => {
      const { page } = await open(pages[0][1], { colorScheme });
      const colours = await page.evaluate(() => {
        const { backgroundColor, color } = getComputedStyle(document.body);
        return [backgroundColor, color];
      });
      return colours.map((colour) => (colour.match(/\d+/g) ?? []).slice(0, 3).reduce((sum, part) => sum + +part, 0));
    };
    const [lightPaper, lightInk] = await brightness('light');
    const [darkPaper, darkInk] = await brightness('dark');
    expect(lightPaper).toBeGreaterThan(lightInk);
    expect(darkPaper).toBeLessThan(darkInk);
  });
});
