import { describe, expect, it } from 'vitest';
import { markdownRenderer } from '../../src/render/markdown.ts';
import { markdownCode, markdownText } from '../../src/render/markdown-text.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleReport } from '../support/sample-report.ts';

const render = (outcomes: readonly Outcome[], several = false) =>
  markdownRenderer({ failOn: 'fail', several }).end(summarise(outcomes));

/** Markdown with code spans and escaped characters taken out: what is left of signs has a meaning. */
const markup = (text: string) =>
  text.replace(/(?<![\\`])(`+)(?!`)[\s\S]*?(?<!`)\1(?!`)/g, 'C').replace(/\\[!-/:-@[-`{-~]/g, 'E');

describe('Markdown', () => {
  const text = render([{ report: sampleReport() }]);

  it('says first what was decided and why, then what next', () => {
    expect(text).toMatch(/^# GATE CLOSED: `bay-2\/run\.csv`\n\n\*\*FAIL\.\*\* At least one answer fails\. 3 questions/);
    const order = [
      '## Why',
      '## What next',
      '## Answers',
      '## Pulls',
      '## What could not be judged',
      '## Handback',
      '## Cautions',
    ];
    const at = order.map((heading) => text.indexOf(`\n${heading}\n`));
    expect(at).toEqual(at.toSorted((a, b) => a - b));
    expect(at[0]).toBeGreaterThan(0);
    expect(text).toContain(
      '- **FAIL** No injector left at the top of the pull (`injector-duty.peak`)\n  - 94.3 % (93.1 to 95.4); warn at 85.0 %, fail at 92.0 %.',
    );
  });

  it('names the inputs, so that the report can be made again', () => {
    for (const { sha256 } of [sampleReport().log, sampleReport().mapping, sampleReport().build]) {
      expect(text).toContain(`SHA-256 \`${sha256}\``);
    }
  });

  it('makes the handback a task list', () => {
    expect(text).toContain('- [x] Fault memory read and clear\n- [ ] Road test with the owner');
  });

  it('sums up several logs before their reports', () => {
    const several = render([{ report: sampleReport() }, { unusable: { file: 'a|b.csv', error: 'Empty.' } }], true);
    expect(several).toMatch(/^# 2 logs: 0 gates open, 1 closed, 1 not read\n/);
    expect(several).toContain('| **NOT READ** | `a\\|b.csv` | Empty. |');
  });

  it.each(HOSTILE_TEXTS)('gains no markup: %j', (hostile) => {
    const plain = markup(render([{ report: sampleReport() }]));
    const attacked = markup(render([{ report: hostileReport(hostile) }]));
    expect(attacked).not.toMatch(/<|\]\(|!\[|:\/\/|\bwww\.|@\w/);
    const structure = (all: string) => all.split('\n').filter((line) => /^(#|\||---)/.test(line));
    expect(structure(attacked).length).toBe(structure(plain).length);
    const pipes = (all: string) => structure(all).map((line) => line.split('|').length);
    expect(pipes(attacked)).toEqual(pipes(plain));
    expect(attacked.split('\n').length).toBe(plain.split('\n').length);
  });
});

describe('Markdown text', () => {
  it.each([
    ['knock_retard_1', 'knock_retard_1'],
    ['_x_', '\\_x\\_'],
    ['a|b', 'a\\|b'],
    ['<b>&amp;', '&lt;b&gt;&amp;amp;'],
    ['- x', '\\- x'],
    ['1. x', '1\\. x'],
    ['@lead', '@&#8203;lead'],
    ['85.0 % at 6,700 rpm (3.0°)', '85.0 % at 6,700 rpm (3.0°)'],
  ])('%j', (text, expected) => {
    expect(markdownText(text)).toBe(expected);
  });

  it('fences code by more backticks than it holds', () => {
    expect(markdownCode('a``b')).toBe('```a``b```');
    expect(markdownCode('`a')).toBe('`` `a ``');
  });
});
