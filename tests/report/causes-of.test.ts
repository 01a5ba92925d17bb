import { describe, expect, it } from 'vitest';
import { fuelTrim } from '../../src/analysers/fuel-trim.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { answer } from '../../src/report/answer.ts';
import { causesOf, cluesOf } from '../../src/report/causes/causes-of.ts';
import { CAUSE_RULES } from '../../src/report/causes/rank-causes.ts';
import { suggestedCorrections } from '../../src/report/corrections.ts';
import type { AnalyserAnswer } from '../../src/report/report-schema.ts';
import { assessLog } from '../../src/run/assess-log.ts';
import { type ChannelData, everySample, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { type FaultKind, simulateCase } from '../support/simulate.ts';
import { type Moment, TEN_MINUTES, trimDrive } from '../support/trim-drive.ts';

const limits = new Map(fuelTrim.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));

function trimAnswer(total: (moment: Moment) => number, build: Build = aBuild()) {
  const drive = trimDrive({ holds: TEN_MINUTES, total }, build);
  const answers = [answer(fuelTrim, drive, { build, limits, codes: [] })];
  return { drive, build, answers, codes: [] };
}

describe('causes of what closed loop shows', () => {
  it.each<[string, (moment: Moment) => number, string]>([
    ['12 % everywhere', () => 12, 'fuel-constant-short'],
    ['-12 % everywhere', () => -12, 'fuel-constant-over'],
    ['14 % at idle, fading', ({ hold }) => (hold.load < 20 ? 14 : hold.load < 40 ? 4 : 1), 'unmetered-air'],
    ['-14 % at idle, fading', ({ hold }) => (hold.load < 20 ? -14 : hold.load < 40 ? -4 : -1), 'extra-fuel-at-idle'],
    ['14 % at load', ({ hold }) => (hold.load < 20 ? 0 : hold.load < 40 ? 4 : 14), 'fuel-delivery'],
    ['-14 % at load', ({ hold }) => (hold.load < 20 ? 0 : hold.load < 40 ? -4 : -14), 'airflow-high'],
  ])('%s', (_, total, id) => {
    const [first] = causesOf(trimAnswer(total));
    expect(first.id).toBe(id);
    expect(first.explains).toContain('fuel-trim.level');
    expect(first.for.join(' ')).toMatch(/\d %/);
  });

  it('are none where nothing warns', () => {
    expect(causesOf(trimAnswer(() => 1))).toEqual([]);
  });
});

/** Every finding that a rule explains, failing: more than any log would show. */
const allFailing: AnalyserAnswer[] = CAUSE_RULES.flatMap(({ explains }) => explains).map((id) => ({
  id,
  title: id,
  verdict: 'fail',
  summary: '',
  findings: [{ id, verdict: 'fail', title: id, reasoning: [], where: [], causes: [], next: [] }],
  needs: [],
}));
const time = everySample(30, 10);
const flat = (value: number): ChannelData => ({ time, values: time.map(() => value) });

describe('a log that lacks channels', () => {
  it.each<[string, Partial<Record<ChannelId, ChannelData>>]>([
    ['engine speed alone', { engine_speed: flat(820) }],
    ['no engine speed', { lambda: flat(1), short_term_fuel_trim_1: flat(3), manifold_pressure: flat(40) }],
    ['trims that are zero', { engine_speed: flat(820), short_term_fuel_trim_1: flat(0) }],
    ['rail pressure that stands still', { engine_speed: flat(820), fuel_rail_pressure: flat(300) }],
  ])('%s: neither causes nor corrections break down', (_, channels) => {
    const build = aBuild();
    const drive: Drive = segmentDrive(recordingFrom({ channels, barometricKpa: 100 }), build);
    const asked = ['fuel-trim', 'mixture', 'fuel-pressure', 'injector-duty', 'timing-pull', 'boost-creep'];
    const answers = [
      ...allFailing.filter(({ id }) => id !== 'fuel-trim.level'),
      ...asked.map((id) => ({ ...allFailing[0], id, findings: [] })),
    ];
    const subject = { drive, build, answers, codes: ['P0302'] };
    expect(cluesOf(subject)['cylinders misfire'].answer).toBe('yes');
    expect(Array.isArray(causesOf(subject))).toBe(true);
    expect(suggestedCorrections(drive, build, answers, [])).toBeUndefined();
  });
});

// The whole table: npx tsx tests/accuracy/causes.ts
describe('generated cars with one fault', () => {
  it.each<[FaultKind, string]>([
    ['creep', 'gate-flow'],
    ['knock-repeat', 'one-cylinder'],
    ['injector-duty', 'injectors-small'],
  ])('%s leads to %s', { timeout: 60_000 }, (fault, id) => {
    const made = simulateCase({
      seed: 'causes',
      fault,
      level: 'fail',
      short: true,
      rateHz: 20,
      logger: { polling: 'every-row' },
    });
    const report = assessLog({
      name: made.name,
      chunks: [made.bytes],
      mapping: { text: made.mappingText, name: 'pullgate.map.json' },
      build: { text: made.buildText, name: 'pullgate.build.json' },
      version: 'test',
    });
    expect(report.causes?.[0]?.id).toBe(id);
  });
});
