import { describe, expect, it } from 'vitest';
import { boostOvershoot } from '../../src/analysers/boost-overshoot.ts';
import { type BoostTruth, firstOrder, overshootOf, secondOrder, spoolThen } from '../support/boost-signals.ts';
import { assessBoost, findingOf } from '../support/boost-verdicts.ts';
import { aBuild } from '../support/build-sheet.ts';

const ID = 'boost-overshoot.excess';
const excess = (truth: BoostTruth, log = {}, build = aBuild()) =>
  findingOf(assessBoost(boostOvershoot, { pulls: [{ truth }], rateHz: 50, noiseKpa: 0.3, ...log }, build), ID);

describe('verdict', () => {
  it('passes a rise without overshoot and says what would have been seen', () => {
    const finding = excess(firstOrder(90, 0.3, 0.1));
    expect(finding.verdict).toBe('pass');
    expect(finding.detectable).toMatch(/An overshoot of .* % lasting/);
  });

  // Second-order closed form: 9.5 % at damping 0.6, 16.3 % at 0.5, 25.4 % at 0.4.
  it.each([
    [0.6, 'pass'],
    [0.5, 'warn'],
    [0.4, 'fail'],
  ])('at damping %d is %s', (zeta, verdict) => {
    const finding = excess(secondOrder(90, zeta, 6));
    expect(finding.verdict).toBe(verdict);
    expect(Math.abs((finding.measured?.value ?? 0) - overshootOf(zeta))).toBeLessThan(1);
    expect(finding.measured?.low).toBeLessThanOrEqual(overshootOf(zeta));
    expect(finding.measured?.high).toBeGreaterThanOrEqual(overshootOf(zeta) - 0.3);
  });

  it('carries limit, place, causes and next steps when it warns', () => {
    const finding = excess(secondOrder(90, 0.5, 6));
    expect(finding.limit).toMatchObject({ warn: 10, fail: 20, unit: '%' });
    expect(finding.where[0]).toMatchObject({ pull: 1 });
    expect(finding.where[0].start).toBeGreaterThan(4);
    expect(finding.causes.length).toBeGreaterThan(1);
    expect(finding.next[0]).toMatch(/control line/);
    expect(finding.reasoning.join(' ')).toMatch(/kPa.*settled line.*%/);
  });

  it('follows limits of the build sheet', () => {
    const build = aBuild({ limits: { [ID]: { warn: '30 %', fail: '40 %' } } });
    expect(excess(secondOrder(90, 0.4, 6), {}, build).verdict).toBe('pass');
  });

  it('does not blame a few kPa over a small settled boost', () => {
    expect(excess(secondOrder(12, 0.5, 6)).verdict).toBe('pass');
  });
});

describe('several pulls', () => {
  const clean = { truth: spoolThen(90, 1) };
  it('one bad pull of three decides, and the others are told', () => {
    const log = { pulls: [clean, { truth: secondOrder(90, 0.4, 6) }, clean] };
    const assessment = assessBoost(boostOvershoot, log);
    const finding = findingOf(assessment, ID);
    expect(finding.verdict).toBe('fail');
    expect(finding.where.map((place) => place.pull)).toEqual([2]);
    expect(finding.reasoning.join(' ')).toMatch(/Seen in pull 2 of 3 judged pulls; the others did not show it/);
    expect(assessment.tables[0].rows).toHaveLength(3);
    expect(assessment.tables[0].rows.map((row) => row[row.length - 1])).toEqual(['pass', 'fail', 'pass']);
  });

  it('a fault in all of them repeats', () => {
    const bad = { truth: secondOrder(90, 0.4, 6) };
    const finding = findingOf(assessBoost(boostOvershoot, { pulls: [bad, bad] }), ID);
    expect(finding.reasoning.join(' ')).toMatch(/repeats in every judged pull/);
  });
});

describe('not assessed', () => {
  it.each([
    ['samples are too slow', { pulls: [{ truth: spoolThen(90, 1), seconds: 6 }], rateHz: 2 }],
    ['first rise was not logged', { pulls: [{ truth: () => 90 }] }],
    ['no boost in this log', { pulls: [{ truth: () => -3 }] }],
    ['still climbing', { pulls: [{ truth: spoolThen(220, 4.85) }] }],
    ['top of what the channel can show', { pulls: [{ truth: spoolThen(190, 1.5) }], topKpa: 255, stepKpa: 1 }],
    [
      'ended before|still climbing|still spooling',
      { pulls: [{ truth: firstOrder(120, 1.2, 0.1, 0), seconds: 2, rpm: [2500, 4200] as const }] },
    ],
  ])('because %s', (why, log) => {
    const finding = findingOf(assessBoost(boostOvershoot, log), ID);
    expect(finding.verdict).toBe('not-assessed');
    expect(finding.reasoning.join(' ')).toMatch(new RegExp(why));
  });

  it('but a fault plain even at a low rate is a fault', () => {
    const log = { pulls: [{ truth: secondOrder(90, 0.3, 2.5), seconds: 7 }], rateHz: 3 };
    expect(findingOf(assessBoost(boostOvershoot, log), ID).verdict).toBe('fail');
  });

  it('and names the channel where manifold pressure is missing', () => {
    expect(boostOvershoot.meta.needs[0]).toEqual(['manifold_pressure']);
  });
});

describe('target', () => {
  it('a bulge that was asked for is taken off', () => {
    const shape = (s: number) => (s < 0 ? 0 : -15 * Math.min(1, s / 0.8));
    const pull = { truth: spoolThen(110, 1, shape), target: (t: number) => 110 + shape(t - 1.15) };
    expect(findingOf(assessBoost(boostOvershoot, { pulls: [pull] }), ID).verdict).toBe('pass');
  });
});

describe('ceiling', () => {
  const build = aBuild({ boost: { ceilingKpa: 110 } });
  it('a first rise above it fails whatever the share', () => {
    const log = { pulls: [{ truth: secondOrder(104, 0.6, 6) }], rateHz: 50, noiseKpa: 0.2 };
    const assessment = assessBoost(boostOvershoot, log, build);
    expect(findingOf(assessment, ID).verdict).toBe('pass');
    expect(findingOf(assessment, 'boost-overshoot.ceiling')).toMatchObject({ verdict: 'fail', limit: { fail: 110 } });
  });

  it('an impossible sample above it does not', () => {
    const truth = spoolThen(90, 1, (s) => (Math.abs(s - 2.02) < 0.024 ? 120 : 0));
    const { findings } = assessBoost(boostOvershoot, { pulls: [{ truth }], rateHz: 20, noiseKpa: 0.3 }, build);
    expect(findings.map((finding) => finding.id)).toEqual([ID]);
  });
});

describe('a late taper', () => {
  // Flat for four seconds and more, then down by a third: no peak of the first rise.
  it.each([8, 20, 35])('of %d kPa per s is no overshoot', (perS) => {
    for (const seed of [1, 2, 3, 4]) {
      const truth = spoolThen(80, 0.6, (since) => -perS * Math.max(0, since - 4.4));
      const pulls = [{ truth, seconds: 6.3 }];
      expect(['pass', 'not-assessed'], `seed ${seed}`).toContain(excess(truth, { pulls, seed }).verdict);
    }
  });
});
