import { describe, expect, it } from 'vitest';
import { sensorHealth } from '../../src/analysers/sensor-health.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { airMassFlowGs } from '../../src/engine/speed-density.ts';
import { recordingOf } from '../channels/normalise-csv.ts';
import { type ChannelData, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, normalDeviates } from '../support/drive-script.ts';

/** What the car does at a time: pulls at 44–50 s and 66–72 s, overrun after each, key-on for 3 s, idle at both ends. */
interface Now {
  readonly t: number;
  readonly rpm: number;
  readonly pedal: number;
  readonly speed: number;
  /** Seconds since the pedal last went to or from the floor. */
  readonly sinceS: number;
}
type Truth = (now: Now) => number;
type Truths = Partial<Record<ChannelId, Truth>>;

const BARO = 99;
const fed = ({ rpm, pedal }: Now) => rpm > 0 && !(pedal < 1 && rpm > 1300);

const CAR = {
  engine_speed: ({ rpm }) => rpm,
  accelerator_position: ({ pedal }) => pedal,
  vehicle_speed: ({ speed }) => speed,
  manifold_pressure: ({ rpm, pedal, sinceS }) =>
    rpm === 0 ? BARO : pedal < 1 ? 32 : pedal < 50 ? 70 : BARO + 80 * (1 - Math.exp(-sinceS / 0.5)),
  injector_pulse_width: (now) => (fed(now) ? (now.pedal < 1 ? 2.4 : now.pedal < 50 ? 4 : 13) : 0),
  lambda: (now) => (!fed(now) ? 1.5 : now.pedal > 50 ? 0.82 : 1),
  spark_advance: ({ rpm, pedal }) => (rpm === 0 ? 0 : pedal < 1 ? 12 : pedal < 50 ? 28 : 17),
  coolant_temperature: () => 90,
} satisfies Truths;

const NOISE: Partial<Record<ChannelId, number>> = {
  engine_speed: 4,
  manifold_pressure: 0.45,
  injector_pulse_width: 0.01,
  lambda: 0.004,
};
const STEP: Partial<Record<ChannelId, number>> = { manifold_pressure: 0.1, injector_pulse_width: 0.001, lambda: 0.001 };

interface Options {
  readonly rateHz?: number;
  readonly quiet?: boolean;
  readonly step?: Partial<Record<ChannelId, number>>;
  readonly build?: Parameters<typeof aBuild>[0];
  readonly without?: readonly ChannelId[];
  readonly seed?: number;
}

function sampled(truths: Truths, options: Options): Partial<Record<ChannelId, ChannelData>> {
  const { rateHz = 20, seed = 1, quiet = false } = options;
  const base = baseRun(rateHz, 0, seed);
  const { time, values: rpm } = base.engine_speed;
  const pedal = base.accelerator_position.values;
  let changedS = 0;
  const nows = Array.from(time, (t, i): Now => {
    if (i > 0 && pedal[i] > 50 !== pedal[i - 1] > 50) changedS = t;
    return { t, rpm: rpm[i], pedal: pedal[i], speed: base.vehicle_speed.values[i], sinceS: t - changedS };
  });
  const channels: Partial<Record<ChannelId, ChannelData>> = {};
  for (const [id, truth] of Object.entries(truths) as [ChannelId, Truth][]) {
    if (options.without?.includes(id)) continue;
    const deviate = normalDeviates(seed + id.length);
    const noise = quiet ? 0 : (NOISE[id] ?? 0);
    const step = options.step?.[id] ?? STEP[id] ?? 0;
    const values = nows.map((now) => {
      const value = truth(now);
      const noisy = now.rpm > 0 && value !== 0 ? value + noise * deviate() : value;
      return step > 0 ? step * Math.round(noisy / step) : noisy;
    });
    channels[id] = { time, values, rateHz };
  }
  return channels;
}

function judged(channels: Partial<Record<ChannelId, ChannelData>>, build: Build) {
  const drive = segmentDrive(recordingFrom({ channels, barometricKpa: BARO }), build);
  const result = sensorHealth.assess(drive, { build, limits: new Map(), codes: [] });
  for (const finding of result.findings) {
    expect(finding.reasoning.join(' ')).not.toMatch(/NaN|undefined|Infinity|unknown/);
    if (finding.verdict === 'pass') expect(finding.detectable).toBeTruthy();
    if (finding.verdict !== 'warn' && finding.verdict !== 'fail') continue;
    // The contract: warn and fail carry measured, limit, reasoning, where and next.
    expect(finding).toMatchObject({ measured: { value: expect.any(Number) }, limit: { source: expect.any(String) } });
    expect(finding.where.length).toBeGreaterThan(0);
    expect(finding.next.length).toBeGreaterThan(0);
  }
  const find = (id: string) => result.findings.find((finding) => finding.id === `sensor-health.${id}`);
  const verdicts = Object.fromEntries(result.findings.map(({ id, verdict }) => [id.slice(14), verdict]));
  return { ...result, verdict: worst(result.findings), find, verdicts, pulls: drive.pulls };
}

const assess = (changed: Truths = {}, options: Options = {}) =>
  judged(sampled({ ...CAR, ...changed }, options), aBuild(options.build));

/** Replaces single readings, by index. */
function withReadings(id: ChannelId, at: readonly number[], value: number, options: Options = {}, more: Truths = {}) {
  const channels = sampled({ ...CAR, ...more }, options);
  const data = channels[id] as ChannelData;
  const values = Array.from(data.values);
  for (const i of at) values[i] = value;
  return judged({ ...channels, [id]: { ...data, values } }, aBuild(options.build));
}

describe('a healthy car', () => {
  it.each([1, 2, 5, 20, 50])('raises no alarm at %i Hz', (rateHz) => {
    expect(assess({}, { rateHz }).verdict).toBe('pass');
  });
  it('raises none without any noise, in one-byte steps, or both', () => {
    const step = { manifold_pressure: 1, accelerator_position: 0.4, spark_advance: 0.5, lambda: 0.01 };
    for (const options of [{ quiet: true }, { step }, { quiet: true, step }]) {
      expect(assess({}, options).verdict).toBe('pass');
    }
  });
  it('raises none when naturally aspirated, flat at the air pressure through every pull', () => {
    const truth: Truth = ({ rpm, pedal }) => (rpm === 0 ? BARO : pedal < 1 ? 32 : pedal < 50 ? 70 : 98);
    for (const quiet of [true, false]) {
      expect(assess({ manifold_pressure: truth }, { quiet, step: { manifold_pressure: 1 } }).verdict).toBe('pass');
    }
  });
  it('raises none over what may stand still: warm coolant, gear, status, lamp, retard, ethanol, supply, air pressure', () => {
    const still: Truths = {
      gear: () => 3,
      fuel_system_status: () => 2,
      malfunction_lamp: () => 0,
      knock_retard: () => 0,
      ethanol_content: () => 10,
      battery_voltage: () => 14,
      barometric_pressure: () => BARO,
      intake_air_temperature: () => 25,
      oil_temperature: () => 95,
      long_term_fuel_trim_1: () => 3.1,
    };
    expect(assess(still).verdict).toBe('pass');
  });
  it('raises none over a throttle at 100 % and lambda at its lean end in fuel cut', () => {
    expect(
      assess({ throttle_position: ({ pedal }) => pedal, lambda: (n) => (fed(n) ? CAR.lambda(n) : 7.99) }).verdict,
    ).toBe('pass');
  });
  it.each([1, 20])('raises none for a diesel that is logged at %i Hz with a throttle that never moves', (rateHz) => {
    const diesel: Truths = {
      throttle_position: () => 82,
      manifold_pressure: ({ pedal, sinceS }) => BARO + 1 + (pedal > 50 ? 90 * (1 - Math.exp(-sinceS)) : 0.5 * pedal),
      lambda: ({ pedal }) => (pedal > 50 ? 1.2 : 2),
      mass_air_flow: ({ rpm, pedal }) => (rpm / 60) * (pedal > 50 ? 1.9 : 0.5),
      intake_air_temperature: () => 30,
    };
    const without = ['injector_pulse_width', 'spark_advance'] as const;
    const step = { manifold_pressure: 1, lambda: 0.1, accelerator_position: 0.4 };
    expect(assess(diesel, { rateHz, quiet: true, step, without }).verdict).toBe('pass');
  });
  it('raises none for a hybrid that drives with its engine off', () => {
    const off: Truths = {
      engine_speed: ({ t, rpm }) => (t > 25 && t < 43 ? 0 : rpm),
      manifold_pressure: (now) => (now.t > 26 && now.t < 43 ? BARO : CAR.manifold_pressure(now)),
    };
    expect(assess(off, { rateHz: 1, quiet: true, without: ['injector_pulse_width', 'lambda'] }).verdict).toBe('pass');
  });
  it('with few channels says what it could not check', () => {
    const { verdicts, needs } = assess(
      {},
      {
        without: [
          'accelerator_position',
          'vehicle_speed',
          'manifold_pressure',
          'injector_pulse_width',
          'lambda',
          'spark_advance',
        ],
      },
    );
    expect(verdicts).toMatchObject({ stuck: 'not-assessed', disagreement: 'not-assessed', implausible: 'pass' });
    expect(needs.join()).toContain('accelerator_position');
  });
  it('without engine speed is no alarm', () => {
    expect(assess({}, { without: ['engine_speed'] }).verdict).toBe('pass');
  });
  it('in three rows tells nothing', () => {
    const short: ChannelData = { time: [0, 0.1, 0.2], values: [820, 821, 822] };
    expect(
      judged({ engine_speed: short, manifold_pressure: { ...short, values: [35, 35, 35] } }, aBuild()).verdict,
    ).toBe('not-assessed');
  });
});

describe('stuck', () => {
  it('is manifold pressure that reads 101 throughout: fail, over both pulls', () => {
    const { find, pulls } = assess({ manifold_pressure: () => 101 }, { quiet: true });
    const stuck = find('stuck');
    expect(pulls).toHaveLength(2);
    expect(stuck?.verdict).toBe('fail');
    expect(stuck?.title).toContain('Manifold pressure stood still');
    expect(stuck?.measured?.value).toBeCloseTo(90, 0);
    expect(stuck?.limit?.fail).toBe(2);
    expect(stuck?.next[0]).toContain('hose');
  });
  it('is a hose that is off: the air pressure with noise', () => {
    const { find } = assess({ manifold_pressure: () => BARO });
    expect(find('stuck')?.verdict).toBe('fail');
    expect(find('stuck')?.reasoning[0]).toContain('within noise');
  });
  it('is told with its time range where the channel lives before and after', () => {
    const stuck = assess(
      { manifold_pressure: (now) => (now.t > 30 && now.t < 56 ? 70 : CAR.manifold_pressure(now)) },
      { quiet: true },
    ).find('stuck');
    expect(stuck?.verdict).toBe('fail');
    // The script is at this very value from 23 s to 44 s and again from 56 s to 66 s.
    expect(stuck?.where[0].start).toBeCloseTo(23, 0);
    expect(stuck?.where[0].end).toBeCloseTo(66, 0);
  });
  it.each([
    ['injector_pulse_width', 3, 'fail'],
    ['injector_duty', 30, 'warn'],
    ['lambda', 1, 'warn'],
    ['spark_advance', 15, 'warn'],
    ['mass_air_flow', 40, 'warn'],
    ['calculated_load', 50, 'warn'],
    ['throttle_position', 80, 'warn'],
  ] as const)('%s at %d throughout is %s', (id, value, verdict) => {
    const answer = assess({ [id]: () => value }, { quiet: true });
    expect(answer.verdict).toBe(verdict);
  });
  it('is not the throttle of a diesel, whose manifold never falls below the air pressure', () => {
    const boosted: Truth = ({ pedal, sinceS }) =>
      BARO + 2 + (pedal > 50 ? 100 * (1 - Math.exp(-sinceS)) : pedal > 1 ? 15 : 0);
    expect(assess({ throttle_position: () => 90, manifold_pressure: boosted }).verdict).toBe('pass');
  });
  it('is engine speed that stands still while manifold pressure moves', () => {
    const { find } = assess({ engine_speed: ({ t, rpm }) => (t > 20 && t < 66 ? 2000 : rpm) });
    expect(assess({ engine_speed: () => 2000 }, { quiet: true }).find('stuck')?.title).toContain('Engine speed');
    expect(find('stuck')?.verdict).toBe('pass'); // With noise on it, it moves.
  });
  it('is road speed that stands still through a pull, but not a dynamometer', () => {
    expect(assess({ vehicle_speed: ({ speed }) => Math.min(speed, 45) }).find('stuck')?.title).toContain(
      'Vehicle speed',
    );
    const { verdict, find } = assess({ vehicle_speed: () => 0 });
    expect(verdict).toBe('pass');
    expect(find('dead')?.title).toContain('0 throughout');
  });
  it('is coolant that stays cold through minutes of driving', () => {
    const rateHz = 2;
    const time = Float64Array.from({ length: 800 }, (_, i) => i / rateHz);
    const engine: ChannelData = { time, rateHz, values: time.map((t) => 2000 + 300 * Math.sin(t)) };
    const coolant = (value: number): ChannelData => ({ time, rateHz, values: time.map(() => value) });
    expect(judged({ engine_speed: engine, coolant_temperature: coolant(20) }, aBuild()).verdicts.stuck).toBe('warn');
    expect(judged({ engine_speed: engine, coolant_temperature: coolant(88) }, aBuild()).verdicts.stuck).toBe('pass');
  });
  it('is manifold pressure that freezes in the middle of a pull', () => {
    const frozen: Truth = (now) => (now.t > 46 && now.t < 47.5 ? Number.NaN : CAR.manifold_pressure(now));
    const channels = sampled({ ...CAR, manifold_pressure: frozen }, {});
    const data = channels.manifold_pressure as ChannelData;
    const values = Array.from(data.values, (value) => (Number.isNaN(value) ? 171.3 : value));
    const { find } = judged({ ...channels, manifold_pressure: { ...data, values } }, aBuild());
    expect(find('stuck')?.verdict).toBe('warn');
    expect(find('stuck')?.title).toContain('froze in a pull');
    expect(find('stuck')?.where[0]).toMatchObject({
      pull: 1,
      start: expect.closeTo(46, 0),
      end: expect.closeTo(47.5, 0),
    });
  });
});

describe('dead', () => {
  const dead: Truths = { mass_air_flow: () => 0 };
  it('is an airflow meter at 0', () => {
    const { find } = assess(dead);
    expect(find('dead')?.verdict).toBe('warn');
    expect(find('dead')?.next.join(' ')).toContain('expect.disconnected');
  });
  it.each([
    ['airflow', { airflow: 'speed-density' }],
    ['expect.ignoreCodes', { expect: { ignoreCodes: ['P0102'], disconnected: [] } }],
    ['expect.disconnected', { expect: { ignoreCodes: [], disconnected: ['mass_air_flow'] } }],
  ] as const)('is no fault where the build sheet explains it by %s', (_, build) => {
    expect(assess(dead, { build }).verdict).toBe('pass');
  });
  it('is said of a channel listed as disconnected, and a live one is told', () => {
    const build = { expect: { ignoreCodes: [], disconnected: ['mass_air_flow'] } };
    expect(assess(dead, { build }).find('disconnected')?.reasoning[0]).toContain('as expected');
    expect(assess({}, { build }).find('disconnected')?.reasoning[0]).toContain('no value');
    expect(assess({ mass_air_flow: () => 0.6 }, { build }).find('disconnected')?.verdict).toBe('pass');
    const alive = assess({ mass_air_flow: ({ rpm, pedal }) => (rpm / 40) * (0.3 + pedal / 100) }, { build });
    expect(alive.find('disconnected')?.verdict).toBe('warn');
    expect(alive.find('disconnected')?.title).toContain('alive though listed');
  });
  it.each([
    ['coolant_temperature', -40],
    ['intake_air_temperature', -40],
    ['coolant_temperature', 215],
    ['lambda', 0],
    ['fuel_rail_pressure', 0],
    ['injector_pulse_width', 0],
    ['manifold_pressure', 0],
  ] as const)('is %s at %d', (id, value) => {
    const { verdicts } = assess({ [id]: () => value }, { quiet: true });
    expect(verdicts).toMatchObject({ dead: 'warn', stuck: 'pass', implausible: 'pass' });
  });
  it('is a pedal that never moves while the throttle does', () => {
    const { find } = assess({ throttle_position: ({ pedal }) => pedal, accelerator_position: () => 0 });
    expect(find('dead')?.title).toContain('Accelerator position is dead');
  });
  it('is a mapped column without a value', () => {
    const rows = Array.from({ length: 40 }, (_, i) => `${i / 10},${800 + (i % 7)},`);
    const csv = ['t,RPM,MAP', ...rows].join('\n');
    const mapping = {
      channels: { engine_speed: 'RPM', manifold_pressure: { column: 'MAP', unit: 'kPa', reference: 'absolute' } },
    };
    const build = aBuild();
    const drive = segmentDrive(recordingOf(csv, mapping), build);
    const { findings } = sensorHealth.assess(drive, { build, limits: new Map(), codes: [] });
    const finding = findings.find(({ id }) => id === 'sensor-health.dead');
    expect(finding?.verdict).toBe('warn');
    expect(finding?.title).toBe('Manifold pressure has no values');
  });
});

describe('saturated', () => {
  it('is a one-byte manifold pressure at 255 kPa in the pulls', () => {
    const high: Truth = (now) => Math.min(255, CAR.manifold_pressure(now) + (now.pedal > 50 ? 100 : 0));
    const { find } = assess({ manifold_pressure: high }, { step: { manifold_pressure: 1 }, quiet: true });
    expect(find('saturated')?.verdict).toBe('warn');
    expect(find('saturated')?.where.map(({ pull }) => pull)).toEqual([1, 2]);
    expect(find('saturated')?.reasoning.join(' ')).toContain('no boost verdict on it can be a pass');
  });
  it('is lambda at its rich end in a pull, and at its lean end', () => {
    expect(
      assess({ lambda: (n) => (n.pedal > 50 ? 0.65 : CAR.lambda(n)) }, { quiet: true }).find('saturated')?.verdict,
    ).toBe('warn');
    const lean = assess({ lambda: (n) => (n.pedal > 50 ? 1.5 : CAR.lambda(n)) }, { quiet: true }).find('saturated');
    expect(lean?.title).toContain('lean end');
  });
  it('is a trim at its end, not a trim that passes there', () => {
    expect(assess({ short_term_fuel_trim_1: (n) => (n.t > 30 && n.t < 43 ? 25 : 2) }).find('saturated')?.verdict).toBe(
      'warn',
    );
    expect(assess({ short_term_fuel_trim_1: (n) => (n.t > 30 && n.t < 31 ? 25 : 2) }).find('saturated')?.verdict).toBe(
      'pass',
    );
  });
});

describe('implausible', () => {
  it('is a manifold pressure in mbar taken for kPa: fail', () => {
    const { find } = assess({ manifold_pressure: (n) => 10 * (CAR.manifold_pressure(n) + 40) });
    expect(find('implausible')?.verdict).toBe('fail');
    expect(find('implausible')?.next[0]).toContain('unit');
  });
  it('is told of a lone reading outside the pulls, and warned of in a pull', () => {
    expect(withReadings('manifold_pressure', [600], 900).find('implausible')?.verdict).toBe('pass');
    expect(withReadings('manifold_pressure', [600], 900).find('implausible')?.reasoning[0]).toContain('900.0 kPa');
    expect(withReadings('manifold_pressure', [920], 900).find('implausible')?.verdict).toBe('warn');
  });
  it('is not the noise of a sensor at zero, nor a heater that is still cold', () => {
    expect(withReadings('vehicle_speed', [100, 120, 140], -0.1).find('implausible')?.reasoning).toHaveLength(1);
    expect(withReadings('lambda', [1, 2, 3, 4], 0).find('implausible')?.reasoning).toHaveLength(1);
  });
  it('is a coolant that jumps to and fro, not a single slip', () => {
    const six = [200, 300, 400, 500, 600, 700];
    expect(withReadings('coolant_temperature', six, 40).find('implausible')?.verdict).toBe('warn');
    expect(withReadings('coolant_temperature', [200], 40).find('implausible')?.verdict).toBe('pass');
  });
});

describe('disagreeing pairs', () => {
  const disagreement = (changed: Truths, options: Options = {}) => assess(changed, options).find('disagreement');

  it('are pedal and throttle, if for long', () => {
    const held =
      (from: number, to: number): Truth =>
      ({ t, pedal }) =>
        t > from && t < to ? 30 : pedal;
    expect(disagreement({ throttle_position: held(46, 49) })?.verdict).toBe('warn');
    expect(disagreement({ throttle_position: held(46, 46.6) })?.verdict).toBe('pass');
  });
  it.each([
    [35, 'warn'],
    [48, 'warn'],
    [55, 'pass'],
  ])('are a throttle that never opens beyond %d % at full pedal: %s', (most, verdict) => {
    const seen = disagreement({ throttle_position: ({ pedal }) => Math.min(pedal, most) });
    expect(seen?.verdict).toBe(verdict);
    // What a pass promises is the mark that was held against.
    if (verdict === 'pass') expect(seen?.detectable).toContain('Throttle below 50 % for 1.5 s at full pedal');
    else expect(seen?.reasoning[0]).toContain('stayed below 50.0 %');
  });
  it('are manifold pressure at rest and air pressure, 4 kPa apart or more', () => {
    const seen = disagreement({ barometric_pressure: () => BARO - 8 });
    expect(seen?.verdict).toBe('warn');
    expect(seen?.measured?.value).toBeCloseTo(8);
    expect(disagreement({ barometric_pressure: () => BARO - 1 })?.verdict).toBe('pass');
    expect(disagreement({ barometric_pressure: () => BARO - 3 })?.reasoning[0]).toContain('3.0 kPa');
    expect(disagreement({}, { build: { ambient: { barometricKpa: 84, source: 'altitude' } } })?.verdict).toBe('warn');
  });
  it('are logged and computed duty, by a factor of two', () => {
    const duty =
      (times: number): Truth =>
      (n) =>
        (times * CAR.injector_pulse_width(n) * n.rpm) / 1200;
    expect(disagreement({ injector_duty: duty(1) })?.verdict).toBe('pass');
    expect(disagreement({ injector_duty: duty(0.5) })?.reasoning[0]).toContain('half as much');
  });
  it('are airflow and manifold pressure, by the volumetric efficiency between them', () => {
    const meter = (ve: number): Truths => ({
      charge_air_temperature: () => 30,
      mass_air_flow: (n) =>
        n.rpm === 0
          ? 0
          : airMassFlowGs({
              ve,
              displacementL: 2,
              rpm: n.rpm,
              pressureKpaAbs: CAR.manifold_pressure(n),
              temperatureC: 30,
              strokes: 4,
            }),
    });
    expect(disagreement(meter(0.9))?.verdict).toBe('pass');
    const twice = disagreement(meter(1.9));
    expect(twice?.verdict).toBe('warn');
    expect(twice?.measured?.value).toBeCloseTo(1.9, 1);
    expect(disagreement(meter(0.3))?.verdict).toBe('warn');
    expect(disagreement(meter(1.9), { build: { airflow: 'speed-density' } })?.verdict).toBe('pass');
  });
  it('are road speed and gears: miles taken for kilometres', () => {
    // 60 rpm per km/h on a tyre of 2 m is an overall ratio of 60 × 60 × 2 / 1000 = 7.2.
    const vehicle = { gearRatios: [3.6, 2.4, 1.8, 1.3], finalDrive: 4, tyreCircumferenceM: 2 };
    const gear: Truths = { gear: ({ speed }) => (speed > 0 ? 3 : 0) };
    expect(disagreement(gear, { build: { vehicle } })?.verdict).toBe('pass');
    const miles = disagreement({ ...gear, vehicle_speed: ({ speed }) => speed / 1.609344 }, { build: { vehicle } });
    expect(miles?.verdict).toBe('warn');
    expect(miles?.reasoning[0]).toContain('mile');
    expect(disagreement({}, { build: { vehicle } })?.verdict).toBe('pass');
    const none = disagreement({ vehicle_speed: ({ speed }) => speed * 1.2 }, { build: { vehicle } });
    expect(none?.reasoning[0]).toContain('fits none');
  });
  it('are intake and charge temperature of a cold engine', () => {
    const soak = (intake: number, charge: number, coolant: number) =>
      disagreement({
        intake_air_temperature: () => intake,
        charge_air_temperature: () => charge,
        coolant_temperature: () => coolant,
      });
    expect(soak(18, 21, 19)?.verdict).toBe('pass');
    expect(soak(18, 45, 19)?.title).toContain('Charge air temperature disagrees');
    expect(soak(18, 45, 31)?.verdict).toBe('pass');
    expect(soak(18, 45, 88)?.reasoning.join()).not.toContain('cold');
  });
});

describe('lag of the mixture sensor', () => {
  /** First-order answer of the sensor, its half way at `halfS`. */
  const lagged = (halfS: number): Truth => {
    let [state, lastS] = [1.5, 0];
    return (now) => {
      state += (CAR.lambda(now) - state) * (1 - Math.exp(((lastS - now.t) * Math.LN2) / halfS));
      lastS = now.t;
      return state;
    };
  };
  it.each([0.2, 0.5])('of %d s is measured and passes', (halfS) => {
    const lag = assess({ lambda: lagged(halfS) }).find('lag');
    expect(lag?.verdict).toBe('pass');
    expect(Math.abs((lag?.measured?.value ?? 0) - halfS)).toBeLessThan(0.1);
  });
  it('of 1.6 s warns', () => {
    const lag = assess({ lambda: ({ t }) => CAR.lambda({ ...nowAt(t - 1.6) }) }).find('lag');
    expect(lag?.verdict).toBe('warn');
    expect(lag?.measured?.value).toBeCloseTo(1.6, 1);
  });
  it('is not measured where lambda ignores fuel cut, which is told', () => {
    const lag = assess({ lambda: ({ pedal }) => (pedal > 50 ? 0.82 : 1) }).find('lag');
    expect(lag?.verdict).toBe('pass');
    expect(lag?.title).toContain('does not show');
  });
});

/** The script's own state at a time, for what comes late. */
function nowAt(at: number): Now {
  const pulling = (at >= 44 && at < 50) || (at >= 66 && at < 72);
  const overrun = (at >= 50 && at < 56) || (at >= 72 && at < 80);
  const idle = at < 23 || at >= 80;
  return {
    t: at,
    rpm: at < 3 ? 0 : idle ? 820 : 2500,
    pedal: pulling ? 100 : overrun || idle ? 0 : 18,
    speed: 0,
    sinceS: 5,
  };
}
