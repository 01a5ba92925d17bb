import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { htmlRenderer } from '../../../src/render/html/render-html.ts';
import { STYLE, STYLE_SHA256 } from '../../../src/render/html/style.ts';
import { type Outcome, summarise } from '../../../src/report/summarise.ts';
import { demoOutcome } from '../../support/demo-outcome.ts';
import { HOSTILE_TEXTS, hostileReport } from '../../support/hostile-report.ts';
import { sampleReport } from '../../support/sample-report.ts';
import { sampleTraces } from '../../support/sample-traces.ts';
import { allElements, parseStrictXml, textOf, type XmlElement } from '../../support/strict-xml.ts';

const render = (outcomes: readonly Outcome[], several = false): string => {
  const renderer = htmlRenderer({ failOn: 'fail', several });
  const parts = outcomes.map(renderer.each);
  return parts.join('') + renderer.end(summarise(outcomes));
};

const named = (root: XmlElement, name: string) => allElements(root).filter((element) => element.name === name);

/** What a page must never hold: anything that loads, runs or sends. */
const ALIVE = [
  'script',
  'img',
  'iframe',
  'object',
  'embed',
  'link',
  'form',
  'base',
  'foreignObject',
  'image',
  'use',
  'audio',
  'video',
];

const dangers = (root: XmlElement): string[] =>
  allElements(root).flatMap(({ name, attributes }) => [
    ...(ALIVE.includes(name) ? [name] : []),
    ...Object.entries(attributes).flatMap(([key, value]) =>
      /^on|^style$|^src|^srcset$|^action$/i.test(key) || (/href$/.test(key) && !/^#[\w.-]+$/.test(value))
        ? [`${name} ${key}=${value}`]
        : [],
    ),
  ]);

/** Control characters, direction marks and line separators in a text. */
const unprintable = (text: string): string[] => text.match(/(?!\n)[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu) ?? [];

describe('the HTML page', () => {
  const outcome: Outcome = { report: sampleReport(), traces: sampleTraces() };
  const root = parseStrictXml(render([outcome]));

  it('is known by the policy to hold this style sheet and nothing else', () => {
    expect(createHash('sha256').update(STYLE).digest('base64')).toBe(STYLE_SHA256);
    const policy = named(root, 'meta').find(({ attributes }) => attributes['http-equiv'] === 'Content-Security-Policy');
    expect(policy?.attributes.content).toBe(
      `default-src 'none'; style-src 'sha256-${STYLE_SHA256}'; base-uri 'none'; form-action 'none'`,
    );
    expect(named(root, 'style').map(textOf)).toEqual([STYLE]);
    expect(STYLE).not.toMatch(/url\(|@import|[<&]/);
    expect(dangers(root)).toEqual([]);
  });

  it('says the verdict and its reasons first, the handback last', () => {
    const ids = named(root, 'section').map(({ attributes }) => attributes.id);
    expect(ids.slice(0, 3)).toEqual(['why', 'next', 'answers']);
    expect(ids.at(-1)).toBe('handback');
    expect(textOf(named(root, 'h1')[0])).toContain('GATE CLOSED');
    expect(named(root, 'h1')).toHaveLength(1);
  });

  it('names the inputs with their whole hashes', () => {
    const text = textOf(root);
    for (const { sha256 } of [sampleReport().log, sampleReport().mapping, sampleReport().build]) {
      expect(text).toContain(sha256);
    }
  });

  it('has headings that never skip a level, unique ids, links that lead somewhere, named pictures and table headers', () => {
    const levels = allElements(root).flatMap(({ name }) => (/^h[1-6]$/.test(name) ? [Number(name[1])] : []));
    expect(levels.every((level, i) => level === 1 || level <= levels[i - 1] + 1)).toBe(true);
    const ids = allElements(root).flatMap(({ attributes }) => attributes.id ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { attributes } of named(root, 'a')) expect(ids).toContain(attributes.href.slice(1));
    for (const { attributes } of named(root, 'svg')) {
      const labels = attributes['aria-labelledby']?.split(' ') ?? [];
      expect(attributes['aria-hidden'] === 'true' || attributes['aria-label'] || labels.length === 2).toBeTruthy();
      for (const label of labels) expect(ids).toContain(label);
    }
    for (const table of named(root, 'table')) {
      expect(named(table, 'caption').map(textOf)[0]).not.toBe('');
      expect(named(table, 'th').every(({ attributes }) => attributes.scope)).toBe(true);
    }
  });

  it('shades and names the stretch of a finding in both pictures of the pull', () => {
    const marks = named(root, 'rect').filter(({ attributes }) => attributes.class === 'stretch fail');
    expect(marks).toHaveLength(2);
    const labels = named(root, 'text')
      .map(textOf)
      .filter((text) => text.startsWith('FAIL'));
    expect(labels).toEqual(['FAIL injector-duty.peak 94.3 %', 'FAIL injector-duty.peak 94.3 %']);
  });

  it('says every verdict in words, not by colour alone', () => {
    for (const mark of allElements(root).filter(({ attributes }) => attributes.class?.startsWith('verdict '))) {
      expect(textOf(mark)).toMatch(/^(PASS|WARN|FAIL|NOT ASSESSED)$/);
    }
  });

  it.each(HOSTILE_TEXTS)('takes hostile words for words: %j', (hostile) => {
    const attacked = { report: hostileReport(hostile), traces: sampleTraces(hostile) };
    const page = parseStrictXml(render([attacked, { unusable: { file: hostile, error: hostile } }], true));
    expect(dangers(page)).toEqual([]);
    const shape = (element: XmlElement): unknown =>
      allElements(element)
        .map(({ name }) => name)
        .join();
    const harmless: Outcome[] = [
      { report: hostileReport('word'), traces: sampleTraces('word') },
      { unusable: { file: 'word', error: 'word' } },
    ];
    const plain = parseStrictXml(render(harmless, true));
    expect(shape(page)).toBe(shape(plain));
    expect(unprintable(textOf(page))).toEqual([]);
  });

  it('joins several logs, each with its own anchors, the summary first', () => {
    const page = parseStrictXml(render([outcome, outcome, { unusable: { file: 'b.csv', error: 'Empty.' } }], true));
    expect(textOf(named(page, 'h1')[0])).toBe('3 logs: 0 gates open, 2 closed, 1 not read');
    const ids = allElements(page).flatMap(({ attributes }) => attributes.id ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    const links = named(page, 'a').map(({ attributes }) => attributes.href.slice(1));
    expect(links.filter((link) => !ids.includes(link))).toEqual([]);
  });

  it('sums up where no log was shown before, and draws nothing without traces', () => {
    const renderer = htmlRenderer({ failOn: 'fail', several: true });
    expect(textOf(parseStrictXml(renderer.end(summarise([outcome]))))).toContain('bay-2/run.csv');
    const page = parseStrictXml(render([{ report: sampleReport() }]));
    expect(named(page, 'svg').some(({ attributes }) => attributes.class === 'figure')).toBe(false);
  });
});

describe('the page of a demo log', () => {
  const outcome = demoOutcome('saloon-knock-on-one-cylinder', 'second-visit.csv');
  const text = render([outcome]);
  const root = parseStrictXml(text);

  it('stays below 400 KB and is the same every time', () => {
    expect(Buffer.byteLength(text)).toBeLessThan(400_000);
    expect(render([outcome])).toBe(text);
  });

  it('draws every pull over engine speed and over time, and all of them together', () => {
    const figures = named(root, 'svg').filter(({ attributes }) => attributes.class === 'figure');
    const titles = figures.map((figure) => textOf(named(figure, 'title')[0]));
    for (const pull of outcome.report.pulls) {
      expect(titles).toContain(`Pull ${pull.id} over engine speed`);
      expect(titles).toContain(`Pull ${pull.id} over time`);
    }
    expect(titles).toContain('Boost of all 3 pulls over engine speed');
  });

  it('marks the knocking stretch of each pull', () => {
    const labels = named(root, 'text')
      .map(textOf)
      .filter((label) => label === 'FAIL timing-pull.repeat');
    expect(labels).toHaveLength(6);
  });

  it('writes no number that is none', () => {
    expect(text).not.toMatch(/NaN|Infinity|undefined|\[object/);
  });

  it('maps the trims with what is behind each cell', () => {
    const section = named(root, 'section').find(({ attributes }) => attributes.id === 'trims');
    expect(section && textOf(section)).toMatch(/bank 1.*[+-]\d+\.\d[\d.]+ s, n \d+/s);
  });
});
