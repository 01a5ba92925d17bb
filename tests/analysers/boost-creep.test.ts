import { describe, expect, it } from 'vitest';
import { boostCreep } from '../../src/analysers/boost-creep.ts';
import { type BoostTruth, firstOrder, spoolThen } from '../support/boost-signals.ts';
import { assessBoost, findingOf } from '../support/boost-verdicts.ts';
import { aBuild } from '../support/build-sheet.ts';

const ID = 'boost-creep.rise';
const creeping = (kpa: number) => spoolThen(80, 1, (s) => (kpa * s) / 3.85);
const rise = (truth: BoostTruth, log = {}, build = aBuild()) =>
  findingOf(assessBoost(boostCreep, { pulls: [{ truth }], ...log }, build), ID);

describe('verdict', () => {
  it.each([
    [0, 'pass'],
    [5, 'pass'],
    [10, 'warn'],
    [26, 'fail'],
  ])('of a rise of %d kPa is %s', (kpa, verdict) => {
    const finding = rise(creeping(kpa));
    expect(finding.verdict).toBe(verdict);
    expect(Math.abs((finding.measured?.value ?? 99) - kpa)).toBeLessThan(1.5 + 0.05 * kpa);
  });

  it('stands at two samples a second', () => {
    expect(
      rise(
        spoolThen(80, 1, (s) => (30 * s) / 4.85),
        { pulls: [{ truth: creeping(30), seconds: 6 }], rateHz: 2 },
      ).verdict,
    ).toBe('fail');
  });

  it('says slope, interval and what a pass would have shown', () => {
    expect(rise(creeping(26)).reasoning[0]).toMatch(/per 1,000 rpm; the interval excludes zero/);
    expect(rise(creeping(0)).detectable).toMatch(/A steady rise of \d+\.\d kPa/);
  });

  it('taper is told and is no fault', () => {
    const assessment = assessBoost(boostCreep, { pulls: [{ truth: creeping(-25) }] });
    expect(assessment.findings.every((finding) => finding.verdict === 'pass')).toBe(true);
    expect(findingOf(assessment, 'boost-creep.taper').measured?.value).toBeLessThan(-20);
  });
});

describe('boost that never settles', () => {
  it('climbing to the redline is a fail, never no data', () => {
    const finding = rise(spoolThen(220, 4.85));
    expect(finding.verdict).toBe('fail');
    expect(finding.title).toBe('Boost never settles');
    expect(finding.next[0]).toMatch(/control line/);
  });

  it('climbing past the target is a fail however early the pull ended', () => {
    const pull = { truth: spoolThen(240, 3), seconds: 2, rpm: [2500, 4600] as const };
    expect(rise(() => 0, { pulls: [pull] }, aBuild({ boost: { targetKpa: 80 } })).verdict).toBe('fail');
  });

  it.each([
    ['a straight spool', spoolThen(120, 4)],
    ['a slowing spool', firstOrder(120, 1.2, 0.1, 0)],
  ])('%s cut short below target and redline is not assessed', (_, truth) => {
    const finding = rise(() => 0, { pulls: [{ truth, seconds: 2, rpm: [2500, 4200] }] });
    expect(finding.verdict).toBe('not-assessed');
    expect(finding.reasoning.join(' ')).toMatch(/still spooling|before boost settled/);
  });

  it('swinging to the end is a fail', () => {
    const finding = rise(spoolThen(90, 1, (s) => 13 * Math.sin(2 * Math.PI * 1.2 * s)));
    expect(finding.verdict).toBe('fail');
    expect(finding.reasoning[0]).toMatch(/swings by .* period/);
    expect(finding.causes[0].cause).toMatch(/loose or leaking control line/);
  });
});

describe('a logged target', () => {
  const pull = { truth: creeping(26), target: (t: number) => 80 + (t < 1.15 ? 0 : (26 * (t - 1.15)) / 3.85) };
  it('that rises with boost explains the rise', () => {
    const finding = rise(() => 0, { pulls: [pull] });
    expect(finding.verdict).toBe('pass');
    expect(finding.reasoning.join(' ')).toMatch(/logged target rose by/);
  });

  it('does not excuse what runs past the target of the build sheet', () => {
    const finding = rise(() => 0, { pulls: [pull] }, aBuild({ boost: { targetKpa: 80 } }));
    expect(finding.verdict).toBe('fail');
    expect(finding.reasoning.join(' ')).toMatch(/does not excuse/);
  });
});

describe('spring pressure', () => {
  const spring = (level: number, boost: object) =>
    findingOf(
      assessBoost(
        boostCreep,
        { pulls: [{ truth: spoolThen(level, 1) }] },
        aBuild({ boost: { control: 'manual', ...boost } }),
      ),
      'boost-creep.spring',
    );
  it('fits near cracking pressure', () => expect(spring(38, {}).verdict).toBe('pass'));
  it('warns far above it without a target', () => expect(spring(125, {}).verdict).toBe('warn'));
  it('never blames an intended boost', () => expect(spring(120, { targetKpa: 120 }).verdict).toBe('pass'));
  it('warns where the sheet promises boost and there is none', () => {
    const assessment = assessBoost(
      boostCreep,
      { pulls: [{ truth: () => -3 }] },
      aBuild({ boost: { control: 'manual' } }),
    );
    expect(findingOf(assessment, 'boost-creep.spring').verdict).toBe('warn');
    expect(findingOf(assessment, ID).verdict).toBe('not-assessed');
  });
  it('says nothing of a naturally aspirated car', () => {
    const { findings } = assessBoost(
      boostCreep,
      { pulls: [{ truth: () => -3 }] },
      aBuild({ boost: { control: 'none' } }),
    );
    expect(findings.map((finding) => finding.verdict)).toEqual(['not-assessed']);
  });
});

describe('sensor and ceiling', () => {
  it('a trace at the top of its sensor is no pass', () => {
    expect(rise(spoolThen(190, 1.5), { topKpa: 255, stepKpa: 1 }).verdict).toBe('not-assessed');
  });

  it('settled boost above the ceiling fails here', () => {
    const assessment = assessBoost(
      boostCreep,
      { pulls: [{ truth: spoolThen(115, 1) }] },
      aBuild({ boost: { ceilingKpa: 110 } }),
    );
    expect(findingOf(assessment, 'boost-creep.ceiling').verdict).toBe('fail');
    expect(findingOf(assessment, ID).verdict).toBe('pass');
  });
});
