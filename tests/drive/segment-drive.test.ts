import { describe, expect, it } from 'vitest';
import { REGIMES } from '../../src/drive/drive.ts';
import { inRegime, regimeAt } from '../../src/drive/regime-at.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun, type Stretch, scriptedDrive } from '../support/drive-script.ts';

const build = aBuild();
const drive = (channels: Parameters<typeof recordingFrom>[0]['channels'], sheet = build) =>
  segmentDrive(recordingFrom({ channels }), sheet);

const road = (seconds: number, from: number, to: number, pedal: readonly [number, number], perKmh = 60): Stretch => ({
  seconds,
  rpm: [from, to],
  pedal,
  speed: [from / perKmh, to / perKmh],
});

describe('pulls of a base run', () => {
  for (const rateHz of [1, 2, 5, 10, 20, 50, 100]) {
    it(`are found at ${rateHz} Hz, with noise, where they were driven`, () => {
      const { pulls } = drive(baseRun(rateHz, 8, rateHz));
      expect(pulls).toHaveLength(2);
      // The script drives the pulls at 44–50 s and 66–72 s; an edge may be off by two samples, at least 0.15 s.
      const tolerance = Math.max(0.15, 2 / rateHz);
      for (const [pull, startS, endS] of [
        [pulls[0], 44, 50],
        [pulls[1], 66, 72],
      ] as const) {
        expect(Math.abs(pull.startS - startS)).toBeLessThanOrEqual(tolerance);
        expect(Math.abs(pull.endS - endS)).toBeLessThanOrEqual(tolerance);
        expect(pull.usable).toBe(true);
        if (rateHz >= 5) expect(pull.endedBy).toBe('lift');
      }
    });
  }

  it('are not broken by lone slips of the speed sensor', () => {
    const channels = baseRun(20, 8);
    const values = Float64Array.from(channels.engine_speed.values);
    for (const atS of [46, 47.5, 68]) values[atS * 20] = 0;
    const slipped = drive({ ...channels, engine_speed: { ...channels.engine_speed, values } });
    expect(slipped.pulls).toHaveLength(2);
    expect(slipped.engineSpeed[46 * 20]).toBeGreaterThan(3500);
  });

  it('do not include part-throttle acceleration', () => {
    const { pulls } = drive(
      scriptedDrive({
        rateHz: 20,
        stretches: [road(5, 1500, 1500, [15, 15]), road(6, 2000, 6000, [60, 60]), road(3, 6000, 6000, [100, 100])],
      }),
    );
    expect(pulls).toHaveLength(0);
  });

  it('are split at a gear change under full pedal, each with its own gear', () => {
    const stretches = [
      road(3, 2000, 2000, [20, 20], 60),
      road(4, 2500, 6800, [100, 100], 60),
      { seconds: 0.3, rpm: [6800, 4500] as const, pedal: [100, 100] as const, speed: [113, 113] as const },
      road(4, 4500, 6700, [100, 100], 39.8),
      road(3, 6700, 3000, [0, 0], 39.8),
    ];
    const sheet = aBuild({
      vehicle: { gearRatios: [3.3, 1.94, 1.31, 1.03, 0.82], finalDrive: 3.94, tyreCircumferenceM: 1.93 },
    });
    const { pulls, time, regime } = drive(scriptedDrive({ rateHz: 20, noiseRpm: 10, stretches }), sheet);
    expect(pulls.map((pull) => [pull.endedBy, pull.gear])).toEqual([
      ['gear-change', 2],
      ['lift', 3],
    ]);
    const changing = [...time].filter((_, i) => REGIMES[regime[i]] === 'gear-change');
    expect(changing.length).toBeGreaterThan(0);
    expect(changing.every((t) => t > 6.9 && t < 8)).toBe(true);
  });

  it('end where the engine holds at the limiter', () => {
    const { pulls } = drive(
      scriptedDrive({
        rateHz: 20,
        stretches: [
          road(3, 2000, 2000, [20, 20]),
          road(4, 2500, 6900, [100, 100]),
          road(3, 6900, 6900, [100, 100]),
          road(2, 6900, 3000, [0, 0]),
        ],
      }),
    );
    expect(pulls).toHaveLength(1);
    expect(pulls[0].endS).toBeCloseTo(7, 0);
    expect(pulls[0].endedBy).toBe('limiter');
  });

  it('that are too short are listed, unusable, with the reason', () => {
    const { pulls } = drive(
      scriptedDrive({
        rateHz: 20,
        stretches: [road(3, 2000, 2000, [20, 20]), road(1.2, 3000, 4000, [100, 100]), road(3, 4000, 2000, [0, 0])],
      }),
    );
    expect(pulls).toHaveLength(1);
    expect(pulls[0].usable).toBe(false);
    expect(pulls[0].notes[0]).toContain('1.5 s are needed');
    expect(pulls[0].fitness.boost).toMatchObject({ ok: false });
  });

  it('never cross a gap in the log', () => {
    const channels = scriptedDrive({
      rateHz: 10,
      stretches: [road(3, 2000, 2000, [20, 20]), road(8, 2000, 6800, [100, 100])],
    });
    const segments = [
      { startS: 0, endS: 6 },
      { startS: 6.1, endS: 11 },
    ];
    const { pulls } = segmentDrive(recordingFrom({ channels, segments }), build);
    expect(pulls).toHaveLength(2);
    expect(pulls[0].endedBy).toBe('log-end');
    expect(pulls[0].endS).toBeLessThanOrEqual(6);
    expect(pulls[1].startS).toBeGreaterThanOrEqual(6.1);
  });
});

describe('full load', () => {
  const without = (channels: ReturnType<typeof baseRun>, ...ids: string[]) =>
    Object.fromEntries(Object.entries(channels).filter(([id]) => !ids.includes(id)));

  it('is told by throttle where no accelerator is logged', () => {
    const channels = baseRun(20);
    const { pulls, load } = drive({
      ...without(channels, 'accelerator_position'),
      throttle_position: channels.accelerator_position,
    });
    expect(load?.channel).toBe('throttle_position');
    expect(pulls).toHaveLength(2);
  });

  it('is told by calculated load, then by manifold pressure, and says so', () => {
    const channels = baseRun(20);
    const rest = without(channels, 'accelerator_position');
    const load = {
      ...channels.accelerator_position,
      values: Array.from(channels.accelerator_position.values, (v) => 20 + 0.8 * v),
    };
    const byLoad = drive({ ...rest, calculated_load: load });
    expect(byLoad.pulls).toHaveLength(2);
    expect(byLoad.notes[0]).toContain('calculated load');
    const pressure = { ...load, values: Array.from(channels.accelerator_position.values, (v) => 40 + 1.4 * v) };
    const byPressure = drive({ ...rest, manifold_pressure: pressure });
    expect(byPressure.pulls).toHaveLength(2);
    expect(byPressure.notes[0]).toContain('manifold pressure');
  });

  it('of a sensor that tops out at 82 % is its own top, and the report is told', () => {
    const channels = baseRun(20);
    const pedal = {
      ...channels.accelerator_position,
      values: Array.from(channels.accelerator_position.values, (v) => 15 + 0.67 * v),
    };
    const { pulls, notes } = drive({ ...channels, accelerator_position: pedal });
    expect(pulls).toHaveLength(2);
    expect(notes[0]).toContain('never read above 82.0 %');
  });

  it('is not reached by a driver who never went past half pedal', () => {
    const channels = baseRun(20);
    const pedal = {
      ...channels.accelerator_position,
      values: Array.from(channels.accelerator_position.values, (v) => 0.5 * v),
    };
    const { pulls, notes } = drive({ ...channels, accelerator_position: pedal });
    expect(pulls).toHaveLength(0);
    expect(notes[0]).toContain('Full load was never reached');
  });

  it('is not told by load where pedal and throttle are logged, and the note says what load did', () => {
    const channels = baseRun(20);
    const { time, values } = channels.accelerator_position;
    const pedal = { ...channels.accelerator_position, values: Array.from(values, (v) => 0.6 * v) };
    const load = { time, values: Array.from(values, (v) => 20 + 0.78 * v) };
    const { pulls, notes } = drive({
      ...channels,
      accelerator_position: pedal,
      throttle_position: pedal,
      calculated_load: load,
    });
    expect(pulls).toHaveLength(0);
    expect(notes[0]).toMatch(/never full \(highest accelerator position 60.*throttle position 60/);
    expect(notes[0]).toMatch(/Load went up to calculated load 98/);
    expect(notes[0]).not.toContain('Full load was never reached');
  });
});

describe('regimes of a base run', () => {
  const base = drive(baseRun(20, 5, 3));
  const cases = [
    [1.5, 'engine-off'],
    [12, 'idle'],
    [36, 'cruise'],
    [47, 'pull'],
    [54, 'fuel-cut'],
    [62, 'cruise'],
    [69, 'pull'],
    [86, 'idle'],
  ] as const;
  for (const [atS, expected] of cases) {
    it(`at ${atS} s is ${expected}`, () => expect(regimeAt(base, atS)).toBe(expected));
  }

  it('of a log that never came off the throttle hold no fuel cut', () => {
    const cruising = drive(scriptedDrive({ rateHz: 10, stretches: [road(60, 2500, 2600, [16, 18])] }));
    expect(regimeAt(cruising, 30)).toBe('cruise');
    expect([...cruising.regime].some((code) => REGIMES[code] === 'fuel-cut')).toBe(false);
  });

  it('take a pedal that rests at 15 % as released there', () => {
    const channels = baseRun(20);
    const values = Array.from(channels.accelerator_position.values, (v) => 15 + 0.8 * v);
    const raised = drive({ ...channels, accelerator_position: { ...channels.accelerator_position, values } });
    expect(regimeAt(raised, 54)).toBe('fuel-cut');
    expect(regimeAt(raised, 36)).toBe('cruise');
  });

  it('just after a lift is not cruise', () => {
    expect(inRegime(base, 50.3, 'lift', 'fuel-cut', 'gear-change', 'transient')).toBe(true);
  });

  it('are undefined outside the log', () => {
    expect(regimeAt(base, -5)).toBeUndefined();
    expect(regimeAt(base, 500)).toBeUndefined();
  });

  it('without engine speed there is nothing, and it is said', () => {
    const empty = drive({ manifold_pressure: { time: [0, 1, 2], values: [100, 101, 100] } });
    expect(empty.pulls).toEqual([]);
    expect(empty.notes[0]).toContain('Engine speed is not logged');
  });
});
