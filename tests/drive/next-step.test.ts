import { describe, expect, it } from 'vitest';
import { boostTarget } from '../../src/analysers/boost-target.ts';
import { torque } from '../../src/analysers/torque.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import type { LimitDefinition } from '../../src/build-sheet/limit.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { nextStep } from '../../src/drive/next-step/next-step.ts';
import type { NextStep, NextStepId } from '../../src/drive/next-step/type.ts';
import { nextStepReport } from '../../src/report/next-step-report.ts';
import { NextStepReport } from '../../src/report/next-step-schema.ts';
import { type BoostTruth, boostDrive, spoolThen } from '../support/boost-signals.ts';
import { type ChannelData, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';

const BARO = 100;
const limit = (id: string, unit: string, warn: number, fail: number): LimitDefinition => ({
  id,
  title: id,
  unit,
  warn,
  fail,
  source: 'common practice, no source',
});
const DEFINITIONS = [
  ...torque.meta.limits,
  ...boostTarget.meta.limits,
  limit('injector-duty.peak', '%', 85, 92),
  limit('charge-temperature.peak', 'degC', 60, 75),
  limit('fuel-pressure.drop', '%', 6, 12),
  limit('timing-pull.peak', 'deg', 2, 5),
];

/** Channels at a moment: seconds, engine speed, manifold pressure (kPa absolute), whether inside the pull. */
type Model = (t: number, rpm: number, kpa: number, pulling: boolean) => number;

/** Two pulls at a settled 80 kPa, with further channels reckoned from engine speed and manifold pressure. */
function step(
  models: Partial<Record<ChannelId, Model>>,
  build: Build,
  truth: BoostTruth = spoolThen(80, 1),
): NextStep | undefined {
  const plain = boostDrive({ pulls: [{ truth }, { truth }], baroKpa: BARO, noiseKpa: 0.2 });
  const { channels } = plain.recording;
  const manifold = channels.get('manifold_pressure');
  if (!manifold) throw new Error('no manifold pressure');
  const { time, values } = manifold;
  const inPull = (t: number) => plain.pulls.some((pull) => t >= pull.startS && t <= pull.endS);
  const more = Object.entries(models).map(([id, model]): [string, ChannelData] => {
    const of = model as Model;
    return [
      id,
      { time, values: Array.from(time, (t, i) => of(t, plain.engineSpeed[i], values[i], inPull(t))), rateHz: 20 },
    ];
  });
  const recording = recordingFrom({
    channels: {
      engine_speed: { time, values: plain.engineSpeed, rateHz: 20 },
      manifold_pressure: { time, values, rateHz: 20 },
      ...Object.fromEntries(more),
    },
    barometricKpa: BARO,
  });
  const drive = { ...plain, recording };
  return nextStep(drive, build, effectiveLimits(DEFINITIONS, build, 'test.build.json'));
}

const SHEET = aBuild({
  engine: { volumetricEfficiency: 0.9 },
  fullLoadLambda: 0.82,
  injectors: {
    flowCcMin: 600,
    ratedPressureKpa: 300,
    fuelPressureKpa: 300,
    regulator: 'manifold-referenced',
    deadTime: [[14, 1]],
  },
  nextStepBoostKpa: 100,
});
/** 11 ms open at 180 kPa absolute and 1 ms dead: 67 % at 6,700 rpm. */
const pulse: Model = (_, __, kpa) => 1 + (11 * kpa) / 180;
const warm: Model = () => 40;
/** Up by 20 K within the first 3 s of each pull (they begin at 4 and 15 s and last 5 s), and down again after it. */
const heatedFrom =
  (restC: number): Model =>
  (t) => {
    const since = t >= 15 ? t - 15 : t - 4;
    if (since < 0) return restC;
    return restC + (since <= 5 ? 20 * Math.min(1, since / 3) : 20 * Math.exp(-(since - 5)));
  };
const of = (answer: NextStep | undefined, id: NextStepId) => {
  const found = answer?.projections.find((p) => p.id === id);
  if (!found) throw new Error(`no ${id} among ${answer?.projections.map((p) => p.id).join(', ')}`);
  return found;
};

describe('injector duty', () => {
  it('grows with the air mass, dead time left out', () => {
    // At 6,700 rpm a cycle takes 17.91 ms: 11 ms open are 61.4 %, 1 ms dead is 5.58 %. 200/180 of the air: 68.2 + 5.6 %.
    const { now, next, standing } = of(
      step({ injector_pulse_width: pulse, charge_air_temperature: warm }, SHEET),
      'duty',
    );
    expect(now.value).toBeCloseTo(67, 0);
    expect(Math.abs(next.value - 73.8)).toBeLessThan(0.7);
    expect(next.low).toBeLessThan(73.8);
    expect(next.high).toBeGreaterThan(73.8);
    expect(standing).toBe('below');
  });
  it('grows more where a fixed fuel pressure loses what boost gains', () => {
    // 300 kPa less 80 and less 100 of boost: √(220/200) = 1.0488.
    const fixed = { ...SHEET, injectors: { ...SHEET.injectors, regulator: 'fixed' as const } };
    const { next } = of(step({ injector_pulse_width: pulse, charge_air_temperature: warm }, fixed), 'duty');
    expect(Math.abs(next.value - (68.2 * 1.0488 + 5.58))).toBeLessThan(0.8);
  });
  it('is not taken from a pull in which the pulse width froze', () => {
    const stuck: Model = (t, rpm, kpa, pulling) => (t > 5 && t < 10 ? 14.5 : pulse(t, rpm, kpa, pulling));
    const { now } = of(step({ injector_pulse_width: stuck, charge_air_temperature: warm }, SHEET), 'duty');
    // The stuck pulse would be 81 % at 6,700 rpm.
    expect(now.value).toBeCloseTo(67, 0);
  });
  it('grows less where the charge gets hotter', () => {
    const heated = heatedFrom(40);
    const cool = of(step({ injector_pulse_width: pulse, charge_air_temperature: warm }, SHEET), 'duty').next.value;
    const hot = of(step({ injector_pulse_width: pulse, charge_air_temperature: heated }, SHEET), 'duty').next.value;
    // 20 K × 0.197 more heat of compression are 4 K in 333 K, 1.2 % of 68 %.
    expect(cool - hot).toBeGreaterThan(0.4);
    expect(cool - hot).toBeLessThan(1.2);
  });
  it('gives fuel flow of all injectors', () => {
    // 4 × 600 cc/min × 61.4 % at 300 kPa, then 200/180 of it.
    const { now, next, standing } = of(
      step({ injector_pulse_width: pulse, charge_air_temperature: warm }, SHEET),
      'fuel-flow',
    );
    expect(Math.abs(now.value / 1474 - 1)).toBeLessThan(0.01);
    expect(Math.abs(next.value / 1638 - 1)).toBeLessThan(0.015);
    expect(standing).toBe('no-limit');
  });
});

describe('charge temperature', () => {
  it('rises with the heat of compression', () => {
    // Rise of 20 K in the pull at a ratio of 1.8; (2.0^(2/7) − 1)/(1.8^(2/7) − 1) = 1.197: 4 K more.
    const heated = heatedFrom(45);
    const { now, next, allows } = of(step({ charge_air_temperature: heated }, SHEET), 'charge-temperature');
    expect(now.value).toBeCloseTo(65, 0);
    expect(Math.abs(next.value - 68.95)).toBeLessThan(0.5);
    expect(allows?.boostKpa).toBeGreaterThan(120);
  });
});

describe('fuel pressure', () => {
  // A fall of 4 % at 6,700 rpm and 180 kPa, none at 2,500 rpm.
  const fall = (rpm: number, kpa: number) => Math.max(0, 0.04 * ((rpm * kpa) / (6700 * 180) - 0.4)) / 0.6;
  const held: Model = (_, rpm, kpa, pulling) => 300 * (1 - (pulling ? fall(rpm, kpa) : 0)) + kpa - BARO;
  const target: Model = (_, __, kpa) => 300 + kpa - BARO;
  const projected = (rail: Model) =>
    of(step({ fuel_rail_pressure: rail, fuel_rail_pressure_target: target }, SHEET), 'rail-pressure');

  it('that falls with demand is carried on', () => {
    const { now, next } = projected(held);
    expect(next.value).toBeGreaterThan(now.value + 0.2);
    expect(next.high).toBeLessThan(12);
  });
  it('is not taken from the moments in which its contact was loose', () => {
    const loose: Model = (t, rpm, kpa, pulling) => (pulling && t % 1 < 0.25 ? 40 : held(t, rpm, kpa, pulling));
    expect(Math.abs(projected(loose).next.value - projected(held).next.value)).toBeLessThan(0.3);
  });
  it('is not taken from a pull in which it froze', () => {
    const frozen: Model = (t, rpm, kpa, pulling) => (t > 5 && t < 10 ? 340 : held(t, rpm, kpa, pulling));
    expect(Math.abs(projected(frozen).next.value - projected(held).next.value)).toBeLessThan(0.3);
  });
  it('is not projected where nothing but the build sheet says what it should hold', () => {
    const open = step({ fuel_rail_pressure: held }, SHEET)?.open.find(({ id }) => id === 'rail-pressure');
    expect(open?.why).toBe('Neither idle nor cruise shows what it holds before much fuel flows.');
  });
});

describe('torque', () => {
  const limited = { ...SHEET, bottomEnd: { torqueLimitNm: 310, maxEthanolPercent: undefined } };
  it('grows with the air mass and is held against the bottom end', () => {
    const { now, next, limit: against } = of(step({ charge_air_temperature: warm }, limited), 'torque');
    expect(Math.abs(next.value / now.value - 200 / 180)).toBeLessThan(0.01);
    expect(against?.value).toBe(310);
  });
});

describe('knock', () => {
  const quiet: Model = () => 0;
  it('that was not seen leaves only the worst case', () => {
    const { now, next, reasoning } = of(step({ knock_retard: quiet }, SHEET), 'knock');
    expect(now.value).toBe(0);
    expect(next.value).toBe(0);
    expect(next.high).toBeCloseTo(2.8, 1);
    expect(reasoning.join(' ')).toMatch(/no log without knock can tell/);
  });
});

describe('the step', () => {
  const heated = heatedFrom(45);
  it('says which limit is met first and at what boost', () => {
    // The ceiling of 95 kPa is met at 95 kPa: before duty (91.9 % at about 154 kPa).
    const sheet = { ...SHEET, boost: { ...SHEET.boost, ceilingKpa: 95 } };
    const answer = step({ injector_pulse_width: pulse, charge_air_temperature: heated }, sheet);
    expect(answer?.first?.id).toBe('peak-boost');
    expect(Math.abs((answer?.first?.boostKpa ?? 0) - 95)).toBeLessThan(1.5);
    expect(of(answer, 'peak-boost').standing).toBe('at-or-above');
    expect(answer?.summary).toMatch(/peak boost to the limit or past it.*First limit met: peak boost/);
  });
  it('says how much boost each limit still allows, and for certain', () => {
    const long: Model = (_, __, kpa) => 1 + (13.5 * kpa) / 180;
    const { allows, now } = of(step({ injector_pulse_width: long, charge_air_temperature: warm }, SHEET), 'duty');
    // 75.4 % open at 180 kPa and 5.6 % dead: 92 % at 180 × 86.4 / 75.4 = 206.3 kPa, 106 kPa gauge.
    expect(now.value).toBeCloseTo(81, 0);
    expect(Math.abs((allows?.boostKpa ?? 0) - 106.3)).toBeLessThan(2.5);
    expect(allows?.surelyKpa).toBeLessThan(allows?.boostKpa ?? 0);
  });
  it('is proposed where the sheet names none', () => {
    const answer = step({ injector_pulse_width: pulse }, { ...SHEET, nextStepBoostKpa: undefined });
    expect(answer?.from).toBe('proposed');
    expect(answer?.boostKpa).toBe(90);
    expect(answer?.reasoning[0]).toMatch(/is proposed/);
  });
  it('too far for the log is said', () => {
    const answer = step({ injector_pulse_width: pulse }, { ...SHEET, nextStepBoostKpa: 120 });
    expect(answer?.beyondData).toBe(true);
    expect(answer?.reasoning.join(' ')).toMatch(/smaller steps, with a log at each/);
    expect(step({ injector_pulse_width: pulse }, SHEET)?.beyondData).toBe(false);
  });
  it('that goes further than limits are looked for meets them beyond, and never is said not to', () => {
    // Looked for up to 80 + 0.35 × 180 = 143 kPa; 400 kPa absolute take duty past 92 %.
    const answer = step(
      { injector_pulse_width: pulse, charge_air_temperature: warm },
      { ...SHEET, nextStepBoostKpa: 300 },
    );
    const duty = of(answer, 'duty');
    expect(duty.standing).toBe('at-or-above');
    expect(duty.allows?.boostKpa).toBeUndefined();
    expect(duty.reasoning.join(' ')).toMatch(
      /limit of 92\.0 % .* is met between 14\d\.\d kPa, .* the step of 300\.0 kPa/,
    );
    expect(duty.reasoning.join(' ')).not.toMatch(/not meet|not met/);
    expect(answer?.summary).toMatch(/duty to the limit or past it\. The first is met beyond 14\d\.\d kPa/);
    const report = nextStepReport(answer as NextStep);
    expect(NextStepReport.parse(report).projections[0].allows).toMatchObject({ boost: null });
    expect(report.projections[0].allows?.beyond).toBe(report.furthestBoost);
  });
  it('names what could not be projected and what would let it', () => {
    const answer = step({ injector_pulse_width: pulse }, SHEET);
    const needs = Object.fromEntries((answer?.open ?? []).map(({ id, needs }) => [id, needs]));
    expect(needs['rail-pressure']).toEqual(['fuel_rail_pressure']);
    expect(needs['charge-temperature']).toContain('charge_air_temperature');
    expect(needs.knock).toContain('knock_retard');
    expect(needs['peak-boost']).toEqual(['boost.ceiling']);
  });
  it('is not answered where boost never settled', () =>
    expect(step({}, SHEET, (t) => 10 + 25 * Math.max(0, t))).toBeUndefined());
  it('fits its schema, also where a fixed fuel pressure is used up', () => {
    const spent = {
      ...SHEET,
      nextStepBoostKpa: 160,
      injectors: { ...SHEET.injectors, regulator: 'fixed' as const, fuelPressureKpa: 150 },
    };
    const answer = step({ injector_pulse_width: pulse, charge_air_temperature: heated }, spent);
    if (!answer) throw new Error('no next step');
    const report = NextStepReport.parse(JSON.parse(JSON.stringify(nextStepReport(answer))));
    expect(report.projections.find((p) => p.id === 'duty')?.next.value).toBeNull();
    expect(of(answer, 'duty').standing).toBe('at-or-above');
    expect(report.first?.id).toBe('duty');
  });
});
