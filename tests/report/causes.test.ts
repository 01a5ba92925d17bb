import { describe, expect, it } from 'vitest';
import type { Verdict } from '../../src/analysers/finding.ts';
import { RankedCause } from '../../src/report/causes/cause-schema.ts';
import { CHECK_COSTS } from '../../src/report/causes/check-costs.ts';
import { CLUES, type ClueId, type Clues, no, open, yes } from '../../src/report/causes/clue.ts';
import { CAUSE_RULES, rankCauses } from '../../src/report/causes/rank-causes.ts';

type Said = Partial<Record<ClueId, 'yes' | 'no'>>;

/** Clues as said; the others open. */
const clues = (said: Said): Clues =>
  Object.fromEntries(
    CLUES.map((id) => {
      const answer = said[id];
      return [id, answer === 'yes' ? yes(`so: ${id}`) : answer === 'no' ? no(`not so: ${id}`) : open(`unknown: ${id}`)];
    }),
  ) as Clues;

const answers = (verdicts: Record<string, Verdict>) => [
  {
    findings: Object.entries(verdicts).map(([id, verdict]) => ({
      id,
      verdict,
      title: id,
      reasoning: [],
      where: [],
      causes: [],
      next: [],
    })),
  },
];

const ranked = (verdicts: Record<string, Verdict>, said: Said) => rankCauses(answers(verdicts), clues(said));
const first = (verdicts: Record<string, Verdict>, said: Said) => ranked(verdicts, said)[0]?.id;

// Signs and their causes: common practice, no source, save where one stands beside the case.
describe('the cause that leads', () => {
  it('lean, falling differential, duty rising: delivery', () => {
    const verdicts = { 'fuel-trim.level': 'fail', 'mixture.lean-error': 'fail', 'injector-duty.peak': 'warn' } as const;
    const said: Said = {
      'fuel is added': 'yes',
      'fuel is taken away': 'no',
      'the correction grows with load': 'yes',
      'the correction is alike everywhere': 'no',
      'the correction fades with load': 'no',
      'full load is lean': 'yes',
      'fuel pressure falls at full load': 'yes',
      'the fall grows with engine speed': 'yes',
      'injector duty is at its end': 'yes',
    };
    const causes = ranked({ ...verdicts, 'fuel-pressure.drop': 'fail' }, said);
    expect(causes[0]).toMatchObject({ id: 'fuel-delivery', standing: 'likely' });
    const airflow = causes.find(({ id }) => id === 'airflow-low');
    expect(airflow?.against).toContain('so: fuel pressure falls at full load');
  });

  it('lean, steady differential, trims positive with load: airflow under-read', () => {
    const said: Said = {
      'fuel is added': 'yes',
      'fuel is taken away': 'no',
      'the correction grows with load': 'yes',
      'full load is lean': 'yes',
      'fuel pressure falls at full load': 'no',
    };
    const causes = ranked({ 'fuel-trim.level': 'fail', 'mixture.lean-error': 'warn' }, said);
    expect(causes[0].id).toBe('airflow-low');
    expect(causes.find(({ id }) => id === 'fuel-delivery')?.against).toContain(
      'not so: fuel pressure falls at full load',
    );
  });

  it('the same without fuel pressure: delivery first, and what would tell the two apart is said of both', () => {
    const said: Said = {
      'fuel is added': 'yes',
      'fuel is taken away': 'no',
      'the correction grows with load': 'yes',
      'full load is lean': 'yes',
    };
    const causes = ranked({ 'fuel-trim.level': 'fail', 'mixture.lean-error': 'warn' }, said);
    expect(causes.slice(0, 2).map(({ id }) => id)).toEqual(['fuel-delivery', 'airflow-low']);
    for (const cause of causes.slice(0, 2)) expect(cause.open).toContain('unknown: fuel pressure falls at full load');
  });

  it('trims positive at idle only: unmetered air', () => {
    const said: Said = { 'fuel is added': 'yes', 'the correction fades with load': 'yes', 'fuel is taken away': 'no' };
    expect(first({ 'fuel-trim.level': 'warn' }, said)).toBe('unmetered-air');
    expect(first({ 'fuel-trim.level': 'warn' }, { ...said, 'the calibration works by speed and density': 'yes' })).toBe(
      'unmetered-air',
    );
  });

  it('one percentage everywhere: a constant of the calibration, by its sign', () => {
    const alike: Said = { 'the correction is alike everywhere': 'yes', 'the correction grows with load': 'no' };
    const trips = { 'fuel-trim.level': 'fail' } as const;
    expect(first(trips, { ...alike, 'fuel is added': 'yes', 'fuel is taken away': 'no' })).toBe('fuel-constant-short');
    expect(first(trips, { ...alike, 'fuel is added': 'no', 'fuel is taken away': 'yes' })).toBe('fuel-constant-over');
    const blend: Said = {
      'another blend would explain the correction': 'yes',
      'the ethanol sensor differs from the build sheet': 'yes',
    };
    expect(first(trips, { ...alike, ...blend, 'fuel is added': 'yes' })).toBe('fuel-blend');
  });

  it('pressure that falls alike at every speed with the hose off: the regulator, and delivery only after it', () => {
    const said: Said = {
      'fuel pressure falls at full load': 'yes',
      'the fall grows with engine speed': 'no',
      'the regulator lost its reference': 'yes',
    };
    const causes = ranked({ 'fuel-pressure.drop': 'fail', 'fuel-pressure.reference': 'warn' }, said);
    expect(causes[0].id).toBe('regulator-reference');
    const delivery = causes.find(({ id }) => id === 'fuel-delivery');
    expect(delivery?.standing).toBe('possible');
    expect(delivery?.against).toContain('not so: the fall grows with engine speed');
  });

  it('lambda at its lean end: the sensor, and nothing that adds fuel is more than unlikely', () => {
    const verdicts = {
      'mixture.lean-error': 'fail',
      'mixture.lean-limit': 'fail',
      'mixture.agreement': 'warn',
    } as const;
    const said: Said = {
      'full load is lean': 'yes',
      'fuel is added': 'no',
      'fuel pressure falls at full load': 'no',
      'injector duty is at its end': 'no',
      'lambda lies at its lean end': 'yes',
      'the mixture read does not fit the fuel delivered': 'yes',
    };
    const causes = ranked(verdicts, said);
    expect(causes[0]).toMatchObject({ id: 'sensor-in-air', standing: 'likely' });
    expect(causes[0].next.map(({ step }) => step).join(' ')).not.toMatch(/add fuel/i);
    expect(causes.slice(1).every(({ standing }) => standing === 'unlikely')).toBe(true);
    expect(
      first(
        { 'mixture.lean-error': 'fail' },
        { ...said, 'lambda lies at its lean end': 'no', 'the mixture read does not fit the fuel delivered': 'no' },
      ),
    ).toBe('full-load-table');
    // A pump that gives up can make it that lean for once: then pressure says so, and fuel as delivered fits the reading.
    const pump: Said = {
      ...said,
      'fuel pressure falls at full load': 'yes',
      'the fall grows with engine speed': 'yes',
      'the mixture read does not fit the fuel delivered': 'no',
    };
    expect(first({ ...verdicts, 'fuel-pressure.drop': 'fail' }, pump)).toBe('fuel-delivery');
  });

  it('one bank, and trims that walk, go before the constants', () => {
    const lean: Said = { 'fuel is added': 'yes', 'the correction is alike everywhere': 'yes' };
    expect(
      first({ 'fuel-trim.level': 'warn', 'fuel-trim.bank-split': 'warn' }, { ...lean, 'the banks differ': 'yes' }),
    ).toBe('one-bank');
    expect(
      first(
        { 'fuel-trim.level': 'warn', 'fuel-trim.drift': 'warn' },
        { ...lean, 'the trims move in one direction': 'yes' },
      ),
    ).toBe('moving-with-heat');
  });

  it('knock on one cylinder, again and again: that cylinder', () => {
    const said: Said = {
      'knock retard in the pulls': 'yes',
      'one cylinder alone is hit': 'yes',
      'several cylinders are hit': 'no',
      'retard returns at the same engine speed': 'yes',
      'retard comes fast and goes slowly': 'yes',
      'the charge is hot when it knocks': 'yes',
    };
    const causes = ranked({ 'timing-pull.peak': 'fail', 'timing-pull.repeat': 'fail' }, said);
    expect(causes[0].id).toBe('one-cylinder');
    expect(causes.find(({ id }) => id === 'hot-charge')).toMatchObject({
      standing: 'unlikely',
      against: expect.arrayContaining(['so: one cylinder alone is hit']),
    });
  });

  it('knock on all with a hot charge: heat; with a cool one: boost and timing', () => {
    const all: Said = {
      'knock retard in the pulls': 'yes',
      'one cylinder alone is hit': 'no',
      'several cylinders are hit': 'yes',
      'retard comes fast and goes slowly': 'yes',
    };
    expect(first({ 'timing-pull.peak': 'fail' }, { ...all, 'the charge is hot when it knocks': 'yes' })).toBe(
      'hot-charge',
    );
    expect(first({ 'timing-pull.peak': 'fail' }, { ...all, 'the charge is hot when it knocks': 'no' })).toBe(
      'timing-beyond-fuel',
    );
  });

  // An underdamped second-order response overshoots and rings: any textbook of control; see boost-overshoot for the formula.
  it('overshoot with slow settling: control line or spring', () => {
    const said: Said = {
      'boost overshoots': 'yes',
      'boost rings after the peak': 'yes',
      'boost settles slowly': 'yes',
      'it shows in every pull': 'yes',
      'the controller is electronic': 'yes',
    };
    expect(first({ 'boost-overshoot.excess': 'warn' }, said)).toBe('late-gate');
    expect(
      first(
        { 'boost-overshoot.excess': 'warn' },
        { ...said, 'boost rings after the peak': 'no', 'boost settles slowly': 'no' },
      ),
    ).toBe('late-gate');
  });

  it('creep with engine speed: gate flow; far above the spring, or never a level: no control', () => {
    const creep: Said = { 'boost climbs after it settled': 'yes', 'boost never comes to a level': 'no' };
    expect(first({ 'boost-creep.rise': 'warn' }, creep)).toBe('gate-flow');
    expect(
      first(
        { 'boost-creep.rise': 'pass', 'boost-creep.spring': 'warn' },
        { 'boost climbs after it settled': 'no', 'boost is far above the spring': 'yes' },
      ),
    ).toBe('no-control');
    const runaway: Said = { 'boost never comes to a level': 'yes', 'injector duty is at its end': 'yes' };
    expect(first({ 'boost-creep.rise': 'fail', 'injector-duty.peak': 'fail' }, runaway)).toBe('no-control');
  });

  it('weak ignition only where misfires were seen', () => {
    const lean: Said = { 'full load is lean': 'yes' };
    const ids = (said: Said) => ranked({ 'mixture.lean-error': 'warn' }, said).map(({ id }) => id);
    expect(ids(lean)).not.toContain('weak-ignition');
    expect(ids({ ...lean, 'cylinders misfire': 'yes' })).toContain('weak-ignition');
  });
});

describe('the rules', () => {
  it('say nothing where nothing warns or fails', () => {
    const said = Object.fromEntries(CLUES.map((id) => [id, 'yes'])) as Said;
    const passes = Object.fromEntries(CAUSE_RULES.flatMap(({ explains }) => explains).map((id) => [id, 'pass']));
    expect(ranked(passes as Record<string, Verdict>, said)).toEqual([]);
  });

  it('each state their physics, the cheapest check first, and use every clue there is', () => {
    for (const { physics, next, evidence, explains } of CAUSE_RULES) {
      expect(physics.length).toBeGreaterThan(60);
      expect(next.length).toBeGreaterThan(0);
      expect(explains.length).toBeGreaterThan(0);
      expect(evidence.some(({ yes: points, no: otherwise }) => points > 0 || otherwise > 0)).toBe(true);
    }
    const used = new Set(CAUSE_RULES.flatMap(({ evidence, only }) => [...only, ...evidence.map(({ clue }) => clue)]));
    expect([...CLUES].filter((clue) => !used.has(clue))).toEqual([]);
    expect(new Set(CAUSE_RULES.map(({ id }) => id)).size).toBe(CAUSE_RULES.length);
  });

  it('give causes that fit their schema, in order of points, with checks in order of cost', () => {
    const said = Object.fromEntries(CLUES.map((id, i) => [id, i % 3 === 0 ? 'no' : 'yes'])) as Said;
    const all = Object.fromEntries(CAUSE_RULES.flatMap(({ explains }) => explains).map((id) => [id, 'warn']));
    const causes = ranked(all as Record<string, Verdict>, said);
    expect(causes.length).toBeGreaterThan(5);
    for (const cause of causes) {
      expect(RankedCause.parse(cause)).toEqual(cause);
      const costs = cause.next.map(({ cost }) => CHECK_COSTS.indexOf(cost));
      expect(costs).toEqual(costs.toSorted((a, b) => a - b));
    }
    const scores = causes.map(({ score }) => score);
    expect(scores).toEqual(scores.toSorted((a, b) => b - a));
  });

  it('never lose a cause, or points, by more that speaks for it', () => {
    for (const rule of CAUSE_RULES) {
      const base: Said = Object.fromEntries(rule.only.map((clue) => [clue, 'yes']));
      const verdicts = { [rule.explains[0]]: 'warn' as const };
      const scoreWith = (said: Said) => ranked(verdicts, said).find(({ id }) => id === rule.id)?.score ?? 0;
      for (const { clue, yes: points } of rule.evidence.filter((weight) => weight.yes > 0)) {
        expect(scoreWith({ ...base, [clue]: 'yes' }), `${rule.id}, ${clue}`).toBeGreaterThanOrEqual(
          Math.min(points, scoreWith({ ...base, [clue]: 'no' })),
        );
      }
    }
  });
});
