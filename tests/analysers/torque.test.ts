import { describe, expect, it } from 'vitest';
import { torque } from '../../src/analysers/torque.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import { findingOf } from '../support/boost-verdicts.ts';
import { aBuild } from '../support/build-sheet.ts';
import { TORQUE_SHEET, type TorqueTruth, torqueDrive } from '../support/torque-drive.ts';

const ID = 'torque.peak';

function assess(truth: TorqueTruth, build: Build, pulls = true) {
  const limits = effectiveLimits(torque.meta.limits, build, 'test.build.json');
  const drive = torqueDrive(truth);
  return torque.assess(pulls ? drive : { ...drive, pulls: [] }, { build, limits, codes: [] });
}
const limited = (torqueLimitNm: number, maxEthanolPercent?: number): Build => ({
  ...TORQUE_SHEET,
  bottomEnd: { torqueLimitNm, maxEthanolPercent },
});
const peak = (truth: TorqueTruth, build: Build) => findingOf(assess(truth, build), ID);

describe('300 N m against a limit', () => {
  it.each([
    [400, 'pass'],
    [318, 'warn'],
    [270, 'fail'],
  ])('of %d N m is %s', (limitNm, verdict) => {
    const finding = peak({ peakNm: 300 }, limited(limitNm));
    expect(finding.verdict).toBe(verdict);
    expect(Math.abs((finding.measured?.value ?? 0) - 30000 / limitNm)).toBeLessThan(2400 / limitNm + 4);
  });
  it('shows both routes, their disagreement and their uncertainties', () => {
    const said = peak({ peakNm: 300 }, limited(400)).reasoning.join(' ');
    expect(said).toMatch(/Airflow, mixture and efficiency: \d+ N m at [\d,]+ rpm in pull 1, 95 % within \d+ %/);
    expect(said).toMatch(/Acceleration of the car: \d+ N m/);
    expect(said).toMatch(/Acceleration reads \d+ % (more|less) than airflow/);
    expect(said).toMatch(/g\/kWh.*common practice, no source/);
  });
  it('says what a pass would have shown', () =>
    expect(peak({ peakNm: 300 }, limited(400)).detectable).toMatch(/360 N m or more would have been told/));
  it('carries place and next steps when it fails', () => {
    const finding = peak({ peakNm: 300 }, limited(270));
    expect(finding.where[0]).toMatchObject({ pull: 1 });
    expect(finding.limit).toMatchObject({ warn: 90, fail: 100, unit: '%' });
    expect(finding.next[0]).toMatch(/Do not add boost/);
  });
  it('is no pass where the interval reaches the limit', () => {
    const oneRoute = { ...limited(345), vehicle: aBuild().vehicle };
    const assessment = assess({ peakNm: 300 }, oneRoute);
    expect(findingOf(assessment, ID).verdict).toBe('not-assessed');
    expect(worst(assessment.findings)).toBe('not-assessed');
    expect(assessment.needs).toContain('vehicle.mass');
  });
  it('judges the higher of two routes that disagree, and says so', () => {
    const finding = peak({ peakNm: 300, nmPerGram: 45 }, limited(400));
    expect(finding.verdict).toBe('fail');
    expect(finding.reasoning.join(' ')).toMatch(/more than their uncertainties allow.*Judged by the higher/);
    expect(finding.causes.length).toBeGreaterThan(0);
  });
  it('is never corrected to standard air while there is boost; without it the factor is told', () => {
    expect(peak({ peakNm: 300 }, limited(400)).reasoning.join(' ')).toMatch(/not corrected to standard air/);
    // 150 N m need 95 kPa here: no boost. 100 kPa and 25 °C: 1.18 × 99/100 − 0.18 = 0.988.
    const quiet = peak({ peakNm: 150, more: { intake_air_temperature: 25 } }, limited(400));
    expect(quiet.reasoning.join(' ')).toMatch(/SAE J1349 factor 0\.988/);
  });
  it('follows limits of the build sheet', () => {
    const build = { ...limited(400), limits: { [ID]: { warn: '60 %', fail: '70 %' } } };
    expect(peak({ peakNm: 300 }, build).verdict).toBe('fail');
  });
});

describe('without a limit', () => {
  it('torque is measured and told, not judged', () => {
    const assessment = assess({ peakNm: 300 }, TORQUE_SHEET);
    const finding = findingOf(assessment, ID);
    expect(finding.verdict).toBe('not-assessed');
    expect(finding.measured?.unit).toBe('N m');
    expect(Math.abs((finding.measured?.value ?? 0) - 300)).toBeLessThan(24);
    expect(assessment.needs).toContain('bottomEnd.torqueLimit');
  });
});

describe('torque at low engine speed', () => {
  it('is told against the limit with its reason', () => {
    const finding = findingOf(assess({ peakNm: 300 }, limited(400)), 'torque.low-speed');
    expect(finding.verdict).toBe('pass');
    expect(finding.where[0].rpm?.[0]).toBeLessThan(3450);
    expect(finding.reasoning.join(' ')).toMatch(/rods/);
  });
  it('warns on its own level, not on a peak higher up', () => {
    const late = (rpm: number) => 300 * (1 - ((rpm - 5500) / 5000) ** 2);
    const assessment = assess({ torque: late }, limited(300));
    expect(findingOf(assessment, ID).verdict).not.toBe('pass');
    expect(findingOf(assessment, 'torque.low-speed').verdict).toBe('pass');
  });
});

describe('ethanol', () => {
  const ethanol = (inTank: number | undefined, most: number, truth: TorqueTruth = {}) =>
    assess(truth, { ...limited(400, most), ethanolPercent: inTank }).findings.find((f) => f.id === 'torque.ethanol');
  it('above what the bottom end may run on warns with the reason', () => {
    const finding = ethanol(30, 20);
    expect(finding?.verdict).toBe('warn');
    expect(finding?.reasoning.join(' ')).toMatch(/low engine speed.*rods/);
  });
  it('at what it may run on is no fault', () => expect(ethanol(20, 20)?.verdict).toBe('pass'));
  it('is read from the sensor before the sheet', () =>
    expect(ethanol(10, 20, { more: { ethanol_content: 60 } })?.measured?.value).toBe(60));
  it('that nobody knows is left open', () => expect(ethanol(undefined, 20)?.verdict).toBe('not-assessed'));
  it('without a limit is not asked', () =>
    expect(assess({}, limited(400)).findings.some((f) => f.id === 'torque.ethanol')).toBe(false));
});

describe('what is missing', () => {
  it('a pull', () => expect(assess({}, limited(400), false).needs).toEqual(['a full-load pull']));
  it('either route', () => {
    const assessment = assess(
      { leaveOut: ['charge_air_temperature'] },
      { ...aBuild(), bottomEnd: limited(400).bottomEnd },
    );
    expect(worst(assessment.findings)).toBe('not-assessed');
    expect(assessment.needs).toEqual(expect.arrayContaining(['vehicle.mass', 'charge_air_temperature']));
  });
});
