import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import type { RenderStyle } from '../../../src/render/format.ts';
import { terminalRenderer } from '../../../src/render/terminal/render-terminal.ts';
import { mapTexts } from '../../../src/report/map-texts.ts';
import type { Report } from '../../../src/report/report-schema.ts';
import { type Outcome, summarise } from '../../../src/report/summarise.ts';
import { demoOutcome } from '../../support/demo-outcome.ts';
import { sampleReport } from '../../support/sample-report.ts';
import { wideText, widthOf } from './wide-text.ts';

vi.setConfig({ testTimeout: 60_000 });

const WIDTHS = [60, 72, 80, 100, 120, 160, 200];
/** Lines of running text end here however wide the window; tables may need more. */
const READABLE = 110;
const DEMO = join(import.meta.dirname, '../../../demo-logs');
const demos = readdirSync(DEMO, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .flatMap(({ name }) =>
    readdirSync(join(DEMO, name))
      .filter((file) => file.endsWith('.csv'))
      .map((file) => [name, file] as const),
  );

async function render(outcome: Outcome, style: Partial<RenderStyle>) {
  const full = { width: 80, colour: 0, failOn: 'fail', quiet: false, several: false, ...style } as const;
  const renderer = await terminalRenderer(full);
  return renderer.each(outcome) + renderer.end(summarise([outcome]));
}

const widest = (text: string) => Math.max(...text.split('\n').map(widthOf));

describe.each(demos)('the report of %s', (car, file) => {
  const outcome = demoOutcome(car, file);

  it.each(WIDTHS)('fits %i columns, with blocks and with ASCII', async (width) => {
    for (const ascii of [false, true])
      expect(widest(await render(outcome, { width, ascii }))).toBeLessThanOrEqual(width);
  });

  it('has no running text that is stretched over a very wide window', async () => {
    const lines = (await render(outcome, { width: 200 })).split('\n');
    const sentences = lines.filter((line) => /^ *(- |\d+\. |For:|Why:|Where:)/.test(line));
    expect(sentences.length).toBeGreaterThan(20);
    expect(Math.max(...sentences.map(widthOf))).toBeLessThanOrEqual(READABLE);
  });

  it('breaks no number from its unit', async () => {
    for (const width of WIDTHS) {
      expect(await render(outcome, { width })).not.toMatch(/\d\n +(%|kPa|rpm|s|Hz|°C)[ ,.;]/);
    }
  });

  it('begins with verdict, reasons and next steps, all on the first screen, then answers and pulls', async () => {
    const lines = (await render(outcome, {})).split('\n');
    const at = (title: string) => lines.indexOf(title);
    expect(lines[0]).toMatch(/^GATE (OPEN|CLOSED) {2}/);
    expect(at('WHAT NEXT')).toBeLessThan(20);
    if (outcome.report.gate === 'fail') expect(at('WHY')).toBe(3);
    expect(at('ANSWERS')).toBeGreaterThan(at('WHAT NEXT'));
    expect(at('ANSWERS')).toBeLessThan(30);
    expect(at('PULLS')).toBeGreaterThan(at('ANSWERS'));
    expect(at('CAUTIONS')).toBeGreaterThan(at('PULLS'));
  });
});

/** What no log, sheet or person fills. */
const IDS =
  /^(Engine|default|pass|warn|fail|not-assessed|report\/1|pullgate|injector-duty|boost-creep|timing-pull|[0-9a-f]{64})/;

const RECORD: Report['handbackRecord'] = {
  car: [{ name: 'Engine', value: '2.00 L' }],
  limits: [{ id: 'injector-duty.peak', warn: 85, fail: 92, unit: '%', from: 'default' }],
};

/** The sample report with a text before each of its own. */
const withTexts = (text: string): Report =>
  mapTexts(sampleReport({ handbackRecord: RECORD }), (own) => (IDS.test(own) ? own : text + own));

describe('a report with long and wide texts', () => {
  it('is no wider than the window', async () => {
    await fc.assert(
      fc.asyncProperty(wideText(150), fc.constantFrom(...WIDTHS), fc.boolean(), async (text, width, guessed) => {
        const report = withTexts(text);
        const outcome = { report: { ...report, mapping: { ...report.mapping, guessed } } };
        expect(widest(await render(outcome, { width, several: true }))).toBeLessThanOrEqual(width);
        const unusable = { unusable: { file: text, error: `${text}: the file is empty.` } };
        expect(widest(await render(unusable, { width, several: true }))).toBeLessThanOrEqual(width);
      }),
      { numRuns: 60 },
    );
  });
});
