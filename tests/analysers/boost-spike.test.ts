import { describe, expect, it } from 'vitest';
import { boostSpike } from '../../src/analysers/boost-spike.ts';
import { bump, spoolThen } from '../support/boost-signals.ts';
import { assessBoost, findingOf } from '../support/boost-verdicts.ts';
import { aBuild } from '../support/build-sheet.ts';

const ID = 'boost-spike.height';
const withSpike = (heightKpa: number, log = {}, build = aBuild()) => {
  const truth = spoolThen(90, 1, (s) => bump(s, 2, 0.3, heightKpa));
  return findingOf(assessBoost(boostSpike, { pulls: [{ truth }], rateHz: 50, noiseKpa: 0.4, ...log }, build), ID);
};

describe('verdict', () => {
  it.each([
    [0, 'pass'],
    [5, 'pass'],
    [9, 'warn'],
    [25, 'fail'],
    [60, 'fail'],
  ])('of a spike of %d kPa is %s', (heightKpa, verdict) => {
    const finding = withSpike(heightKpa);
    expect(finding.verdict).toBe(verdict);
    if (heightKpa > 5) expect(Math.abs((finding.measured?.value ?? 0) - heightKpa)).toBeLessThan(1.5);
  });

  it('says place, height, duration and speed', () => {
    const finding = withSpike(25);
    expect(finding.where[0].start).toBeGreaterThan(4 + 1.15 + 2 - 0.2);
    expect(finding.where[0].end).toBeLessThan(4 + 1.15 + 2 + 0.2);
    expect(finding.reasoning[0]).toMatch(/above the local level for 0\.\d+ s at \d,\d+ rpm/);
    expect(finding.next.length).toBeGreaterThan(2);
  });

  it('says the smallest excursion that a pass would have shown', () => {
    expect(withSpike(0).detectable).toMatch(/An excursion of \d+\.\d kPa lasting 0\.04 s/);
  });

  it('is not assessed where the trace is too noisy to show one', () => {
    expect(withSpike(0, { noiseKpa: 7 }).verdict).toBe('not-assessed');
  });
});

describe('rate', () => {
  it.each([1, 2, 4])('%d Hz cannot show a spike of 0.3 s', (rateHz) => {
    const log = { pulls: [{ truth: spoolThen(90, 1), seconds: 6 }], rateHz };
    const finding = findingOf(assessBoost(boostSpike, log), ID);
    expect(finding.verdict).toBe('not-assessed');
    expect(finding.reasoning.join(' ')).toMatch(/too slow/);
  });
});

describe('what is no spike', () => {
  it('a surge that begins at the lift is told, not judged', () => {
    const truth = spoolThen(90, 1, (s) => (s > 3.66 ? 250 * (s - 3.66) : 0));
    const finding = findingOf(assessBoost(boostSpike, { pulls: [{ truth }], rateHz: 50, noiseKpa: 0.4 }), ID);
    expect(finding.verdict).toBe('pass');
    expect(finding.reasoning.join(' ')).toMatch(/begins at the lift/);
  });

  it('one impossible sample is a sensor question', () => {
    const truth = spoolThen(90, 1, (s) => (Math.abs(s - 2.02) < 0.024 ? 120 : 0));
    const log = { pulls: [{ truth }], rateHz: 20, noiseKpa: 0.4 };
    const finding = findingOf(assessBoost(boostSpike, log, aBuild({ boost: { ceilingKpa: 110 } })), ID);
    expect(finding.verdict).toBe('pass');
    expect(finding.reasoning.join(' ')).toMatch(/sensor/);
  });

  it('an excursion of half a second and more warns under its own name', () => {
    const truth = spoolThen(90, 1, (s) => bump(s, 2.2, 1, 25));
    const assessment = assessBoost(boostSpike, { pulls: [{ truth, seconds: 7 }], rateHz: 50 });
    const others = assessment.findings.filter((finding) => finding.verdict !== 'pass');
    expect(others.length).toBeGreaterThan(0);
  });
});

describe('ceiling', () => {
  it('a spike above it fails here', () => {
    const truth = spoolThen(90, 1, (s) => bump(s, 2, 0.2, 18));
    const log = { pulls: [{ truth }], rateHz: 50, noiseKpa: 0.3 };
    const assessment = assessBoost(boostSpike, log, aBuild({ boost: { ceilingKpa: 105 } }));
    expect(findingOf(assessment, 'boost-spike.ceiling').verdict).toBe('fail');
    expect(findingOf(assessment, ID).verdict).toBe('warn');
  });
});
