import { type Node, Parser } from 'commonmark';
import { describe, expect, it } from 'vitest';
import { markdownRenderer } from '../../src/render/markdown.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { demoOutcome } from '../support/demo-outcome.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';

/** Every node as the reference parser of the CommonMark specification sees it. */
function nodesOf(outcomes: readonly Outcome[], several: boolean): Node[] {
  const text = markdownRenderer({ failOn: 'fail', several }).end(summarise(outcomes));
  const walker = new Parser().parse(text).walker();
  const nodes: Node[] = [];
  for (let step = walker.next(); step; step = walker.next()) if (step.entering) nodes.push(step.node);
  return nodes;
}

const ALIVE = ['html_inline', 'html_block', 'link', 'image'];
const types = (nodes: readonly Node[]) => nodes.map(({ type }) => type);
/** What the page is built of, whatever its words. */
const frame = (nodes: readonly Node[]) => types(nodes).filter((type) => !['text', 'softbreak', 'code'].includes(type));

describe('Markdown, read by the reference parser of CommonMark', () => {
  it.each(HOSTILE_TEXTS)('makes of hostile words neither HTML nor link nor picture nor structure: %j', (hostile) => {
    const outcomes = (words: string): Outcome[] => [
      { report: hostileReport(words) },
      { unusable: { file: words, error: words } },
    ];
    for (const several of [false, true]) {
      const nodes = nodesOf(outcomes(hostile), several);
      expect(types(nodes).filter((type) => ALIVE.includes(type))).toEqual([]);
      expect(frame(nodes)).toEqual(frame(nodesOf(outcomes('word'), several)));
    }
  });

  it('shows hostile words as they are', () => {
    const [hostile] = HOSTILE_TEXTS;
    const shown = nodesOf([{ report: hostileReport(hostile) }], false)
      .map(({ literal }) => literal ?? '')
      .join('');
    expect(shown).toContain(hostile);
  });

  it('has one title and then sections, in the report of a demo log', () => {
    const nodes = nodesOf([demoOutcome('coupe-hand-set-boost', 'after-new-controller.csv')], false);
    const levels = nodes.filter(({ type }) => type === 'heading').map(({ level }) => level);
    expect(levels[0]).toBe(1);
    expect(levels.slice(1).every((level) => level > 1)).toBe(true);
    expect(types(nodes).filter((type) => ALIVE.includes(type))).toEqual([]);
    expect(types(nodes).filter((type) => type === 'code_block')).toEqual([]);
  });
});
