import { describe, expect, it } from 'vitest';
import type { RenderStyle } from '../../../src/render/format.ts';
import { terminalRenderer } from '../../../src/render/terminal/render-terminal.ts';
import type { Report } from '../../../src/report/report-schema.ts';
import { type Outcome, summarise } from '../../../src/report/summarise.ts';
import { sampleReport } from '../../support/sample-report.ts';

const STYLE: RenderStyle = { width: 80, colour: 0, failOn: 'fail', quiet: false, several: false };
// biome-ignore lint/suspicious/noControlCharactersInRegex: colours are control sequences
const COLOUR = /\u001b\[[0-9;]*m/g;

async function render(outcomes: readonly Outcome[], style: Partial<RenderStyle> = {}): Promise<string> {
  const renderer = await terminalRenderer({ ...STYLE, ...style });
  return outcomes.map((outcome) => renderer.each(outcome)).join('') + renderer.end(summarise(outcomes));
}

const one = (changes: Partial<Report> = {}, style: Partial<RenderStyle> = {}) =>
  render([{ report: sampleReport(changes) }], style);

const passing = () => {
  const { analysers } = sampleReport();
  return { gate: 'pass' as const, analysers: analysers.filter((answer) => answer.verdict === 'pass') };
};

describe('the terminal report', () => {
  it('gives the gate first, then the reason with numbers, limit and place', async () => {
    const [first, second, ...rest] = (await one()).split('\n');
    expect(first).toBe('GATE CLOSED  bay-2/run.csv');
    expect(second).toBe('At least one answer fails. 3 questions: 1 fail, 1 pass, 1 not assessed.');
    expect(rest.slice(1, 5)).toEqual([
      'WHY',
      'FAIL  No injector left at the top of the pull',
      '      94.3 % (93.1 to 95.4); warn at 85.0 %, fail at 92.0 %.',
      '      Where: pull 1, 46.8 to 47.9 s, 6,350 to 6,720 rpm.',
    ]);
  });

  it('opens the gate in words', async () => {
    const text = await one(passing());
    expect(text).toMatch(/^GATE OPEN {2}bay-2\/run\.csv\nEvery answer passes\./);
    expect(text).not.toContain('WHY');
  });

  it.each([
    ['warn', 'fail', 'GATE OPEN', 'Nothing fails, but there are warnings.'],
    ['warn', 'warn', 'GATE CLOSED', 'There are warnings.'],
    ['fail', 'never', 'GATE CLOSED', 'At least one answer fails.'],
    ['not-assessed', 'never', 'GATE CLOSED', 'Nothing could be assessed.'],
  ] as const)('%s under --fail-on %s reads %s', async (gate, failOn, words, reason) => {
    const text = await one({ gate }, { failOn });
    expect(text.startsWith(`${words}  `)).toBe(true);
    expect(text.split('\n')[1]).toContain(reason);
  });

  it('never opens the gate on a broken run', async () => {
    const { gate, analysers } = passing();
    const crashed = {
      ...analysers[0],
      id: 'x',
      verdict: 'not-assessed' as const,
      findings: [{ ...analysers[0].findings[0], id: 'x.crashed', verdict: 'not-assessed' as const }],
    };
    expect(await one({ gate, analysers: [...analysers, crashed] })).toMatch(/^GATE CLOSED .*\nA fault in pullgate/);
  });

  it('says at its top that columns were guessed, and shows them', async () => {
    const text = await one({ mapping: { title: 'guessed', sha256: '0', guessed: true } });
    expect(text).toContain('manifold_pressure  Boost (psi)  kPa    9.8   98 %    30.2    221.4');
    expect(await one()).not.toContain('Boost (psi)');
    expect(text.split('\n')[2]).toMatch(/^CAUTION {2}No mapping file was given/);
  });

  it.each([60, 80, 100, 120, 200])('fits %i columns', async (width) => {
    const widest = Math.max(...(await one({}, { width })).split('\n').map((line) => line.length));
    expect(widest).toBeLessThanOrEqual(width);
  });

  it('holds to 60 and 200 columns however narrow or wide the window', async () => {
    expect(await one({}, { width: 20 })).toBe(await one({}, { width: 60 }));
    expect(await one({}, { width: 999 })).toBe(await one({}, { width: 200 }));
  });

  it('says the same with and without colour', async () => {
    const coloured = await one({}, { colour: 1 });
    expect(coloured).toMatch(COLOUR);
    expect(coloured.replace(COLOUR, '')).toBe(await one());
  });

  it('tells what is open, what would help, what a pass would have caught, and the cautions', async () => {
    const text = (await one()).replace(/\n +/g, ' ');
    expect(text).toContain('Timing pull: Neither knock retard nor spark advance with its target is logged.');
    expect(text).toContain('Would help: knock_retard; spark_advance with spark_advance_target.');
    expect(text).toContain('Detectable: a rise of 2.4 kPa.');
    expect(text).toContain('It does not release a car to the road.');
    expect(text).toContain('[open] Road test with the owner');
  });

  it('is short when asked to be quiet', async () => {
    const lines = (await one({}, { quiet: true })).trimEnd().split('\n');
    expect(lines).toHaveLength(5);
    expect((await one(passing(), { quiet: true })).trimEnd().split('\n')).toHaveLength(2);
  });

  it('lets no control character of a log through', async () => {
    const text = await one({ notes: ['RPM\u001b]0;owned\u0007'] });
    expect(text).not.toContain('\u001b');
    expect(text).toContain('RPM\\x1b]0;owned\\x07');
  });

  it('ends several logs with a table, unusable ones in their place', async () => {
    const outcomes: Outcome[] = [
      { report: sampleReport() },
      { unusable: { file: 'broken.csv', error: 'broken.csv: the file is empty.' } },
      { report: sampleReport(passing()) },
    ];
    const text = await render(outcomes, { several: true });
    expect(text.indexOf('NOT READ  broken.csv')).toBeLessThan(text.indexOf('GATE OPEN'));
    expect(text.trimEnd().split('\n').at(-1)).toBe('3 logs: 1 gate open, 1 closed, 1 not read.');
  });
});
