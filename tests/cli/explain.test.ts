import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { FINDING_NOTES } from '../../src/analysers/finding-notes.ts';
import { ANALYSERS } from '../../src/analysers/registry.ts';
import { explainText } from '../../src/cli/explain-text.ts';
import { UserError } from '../../src/kernel/user-error.ts';
import { CAUSE_RULES } from '../../src/report/causes/rank-causes.ts';

const ROOT = join(import.meta.dirname, '..', '..');
const flat = (text: string) => text.replace(/\s+/g, ' ');
const explain = (id?: string) => flat(explainText(id, 80));

const METAS = ANALYSERS.map(({ meta }) => meta);
const LIMIT_IDS = METAS.flatMap(({ limits }) => limits.map(({ id }) => id));
const NOTE_IDS = FINDING_NOTES.map(({ id }) => id);

/** Ids of tables, which are data and no findings. */
const TABLES = ['pulls', 'cells', 'time', 'events', 'peaks'];

/** Every id of an analyser's own written out in the sources, those of tables left out. */
function idsInSources(): string[] {
  const names = METAS.map(({ id }) => id).join('|');
  const literal = new RegExp(`'((?:${names})\\.[a-z-]+)'`, 'g');
  const folder = join(ROOT, 'src', 'analysers');
  const found = readdirSync(folder).flatMap((file) =>
    [...readFileSync(join(folder, file), 'utf8').matchAll(literal)].map(([, id]) => id as string),
  );
  return [...new Set(found)].filter((id) => !TABLES.includes(id.split('.')[1] as string)).sort();
}

/** Every finding in the expected reports of the demonstration logs. */
function idsInGoldens(): string[] {
  const folder = join(ROOT, 'tests', 'golden');
  const reports = readdirSync(folder).filter((file) => file.endsWith('.json'));
  const ids = reports.flatMap((file) => {
    const { analysers } = JSON.parse(readFileSync(join(folder, file), 'utf8')) as {
      analysers: { findings: { id: string }[] }[];
    };
    return analysers.flatMap(({ findings }) => findings.map(({ id }) => id));
  });
  return [...new Set(ids)];
}

describe('an analyser', () => {
  it.each(METAS.map((meta) => [meta.id, meta] as const))('%s is explained in full', (id, meta) => {
    const text = explain(id);
    for (const told of [meta.question, meta.formula, meta.physics, ...meta.cannotSee, ...meta.cautions])
      expect(text).toContain(flat(told));
    for (const { id: limit, source } of meta.limits) {
      expect(text).toContain(limit);
      expect(source.trim()).not.toBe('');
    }
    for (const label of ['Question', 'Formula', 'Physics', 'Needs', 'Limits', 'Cannot see', 'Cautions'])
      expect(explainText(id, 80)).toMatch(new RegExp(`^${label} `, 'm'));
    expect(meta.cannotSee.length).toBeGreaterThan(0);
    expect(meta.cautions.length).toBeGreaterThan(0);
    const sentences = meta.physics.split(/(?<=[.!?])\s+/).length;
    expect(sentences).toBeGreaterThanOrEqual(2);
    expect(sentences).toBeLessThanOrEqual(5);
  });

  it.each(METAS.map((meta) => [meta.id, meta.formula] as const))('%s has a formula with its unit', (_, formula) => {
    expect(formula).toMatch(/\((%|°|°C|kPa|ratio|count|N m|s)\)/);
  });
});

describe('a finding', () => {
  it.each([...new Set([...idsInSources(), ...idsInGoldens()])])('%s is explained', (id) => {
    const known = LIMIT_IDS.includes(id) || NOTE_IDS.includes(id);
    expect(known, `${id} has neither a limit nor a note`).toBe(true);
    const meta = METAS.find((one) => one.id === id.split('.')[0]);
    const text = explain(id);
    expect(text).toContain(`(${id})`);
    for (const told of [meta?.question, meta?.formula, meta?.physics]) expect(text).toContain(flat(told ?? 'no meta'));
  });

  it('has one note, and only where it has no limit', () => {
    expect(new Set(NOTE_IDS).size).toBe(NOTE_IDS.length);
    expect(NOTE_IDS.filter((id) => LIMIT_IDS.includes(id))).toEqual([]);
    expect(idsInSources()).toEqual(expect.arrayContaining(NOTE_IDS));
  });

  it('of an analyser that broke down is explained too', () => {
    expect(explain('torque.crashed')).toContain('never a pass');
  });
});

describe('the causes', () => {
  const all = explain('causes');

  it('are named in the list, and listed in full', () => {
    expect(explain()).toContain(`causes What may be behind it: ${CAUSE_RULES.length} rules`);
    expect(all).toContain('No log proves a cause');
  });

  it.each(CAUSE_RULES.map((rule) => [rule.id, rule] as const))(
    '%s has physics, evidence and next checks',
    (id, rule) => {
      const one = explain(id);
      for (const text of [one, all]) {
        expect(text).toContain(flat(`${rule.cause} (${id}) Physics ${rule.physics}`));
        for (const { step, cost } of rule.next) expect(text).toContain(flat(`${cost}: ${step}`));
      }
      const [speaksFor = '', speaksAgainst = ''] = (one.match(/ For (.*) Check next/)?.[1] ?? '').split(' Against ');
      for (const { clue, yes, no } of rule.evidence) {
        const told = (points: number) => (points > 0 ? speaksFor : speaksAgainst);
        if (yes !== 0) expect(told(yes)).toContain(`${clue} (${Math.abs(yes)} point`);
        if (no !== 0) expect(told(no)).toContain(`not so: ${clue} (${Math.abs(no)} point`);
      }
    },
  );

  it('share no id with an analyser', () => {
    const ids = [...METAS.map(({ id }) => id), 'causes', ...CAUSE_RULES.map(({ id }) => id)];
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('put the cheapest check first', () => {
    const costs = [...explainText('no-control', 80).matchAll(/(look|measure|swap|take apart): /g)].map(
      ([, cost]) => cost,
    );
    expect(costs[0]).toBe('look');
    expect(costs.at(-1)).toBe('take apart');
  });
});

describe('an unknown id', () => {
  it.each([
    ['injector-dutty', 'injector-duty'],
    ['injector-duty.peek', 'injector-duty.peak'],
    ['boost-creep.tapper', 'boost-creep.taper'],
    ['late-gat', 'late-gate'],
    ['cause', 'causes'],
  ])('%s names %s', (slip, near) => {
    expect(() => explainText(slip, 80)).toThrow(UserError);
    expect(() => explainText(slip, 80)).toThrow(`Did you mean "${near}"`);
  });

  it('near to nothing points at the list', () => {
    expect(() => explainText('xyzzy', 80)).toThrow('Without an id, "pullgate explain" lists them.');
    expect(() => explainText('torque.xyzzy', 80)).toThrow(UserError);
  });
});
