import { describe, expect, it } from 'vitest';
import { fuelPressure } from '../../src/analysers/fuel-pressure.ts';
import { mixture } from '../../src/analysers/mixture.ts';
import { sensorHealth } from '../../src/analysers/sensor-health.ts';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import { answer } from '../../src/report/answer.ts';
import { causesOf, cluesOf } from '../../src/report/causes/causes-of.ts';
import { BARO_KPA, intoPull, type MixtureScript, manifoldAt, mixtureDrive } from '../support/mixture-drive.ts';

function subject(script: MixtureScript) {
  const { drive, build } = mixtureDrive(script);
  const asked = [mixture, fuelPressure, sensorHealth];
  const definitions = asked.flatMap(({ meta }) => meta.limits);
  const context = { build, limits: effectiveLimits(definitions, build, 'test.build.json'), codes: [] };
  return { drive, build, codes: [], answers: asked.map((one) => answer(one, drive, context)) };
}

/** Rail pressure that stays at 300 kPa whatever the manifold does, less a further fall by seconds into the pull, %. */
const hoseOff = (fall: (into: number) => number): MixtureScript => ({
  sheet: { fullLoadLambda: 0.82, injectors: { regulator: 'manifold-referenced', fuelPressureKpa: 300 } },
  more: (time) => ({
    fuel_rail_pressure: {
      time: Float64Array.from(time),
      values: Array.from(time, (t, i) => {
        const across = 300 + BARO_KPA - manifoldAt(t);
        return 300 + (i % 2 === 0 ? 0.5 : -0.5) - (across * fall(intoPull(t) ?? 0)) / 100;
      }),
      rateHz: 20,
    },
  }),
});

describe('whether the fall of fuel pressure grows with engine speed', () => {
  it('is told by the finding and by the causes alike: not with the hose off', () => {
    // Boost still builds at the bottom of the pull, so the line over engine speed rises a little: more than its scatter, and no pump at its end.
    const flat = subject(hoseOff(() => 0));
    const clues = cluesOf(flat);
    const drop = flat.answers[1].findings.find(({ id }) => id === 'fuel-pressure.drop');
    expect(drop?.verdict).toBe('fail');
    expect(drop?.reasoning.join(' ')).toContain('does not grow with engine speed');
    expect(clues['the fall grows with engine speed']).toMatchObject({
      answer: 'no',
      words: expect.stringMatching(/: \+0\.[1-4] % of fall/),
    });
    expect(clues['fuel pressure at rest is off'].answer).toBe('no');
    const causes = causesOf(flat);
    expect(causes[0].id).toBe('regulator-reference');
    expect(causes.map(({ id }) => id)).not.toContain('base-pressure');
    expect(causes.find(({ id }) => id === 'fuel-delivery')?.standing).not.toBe('likely');
  });

  it('is yes where a pump gives way besides', () => {
    const clue = cluesOf(subject(hoseOff((into) => 4 * into)))['the fall grows with engine speed'];
    expect(clue.answer).toBe('yes');
  });
});

describe('lambda at its lean end in the pulls', () => {
  const inAir = (value: number) => (lambda: number, t: number, i: number) =>
    intoPull(t) === undefined ? lambda : value + 0.002 * (i % 3);

  it('speaks of the sensor first', () => {
    const air = subject({ change: inAir(1.5) });
    expect(air.answers[0].verdict).toBe('fail');
    expect(cluesOf(air)['lambda lies at its lean end']).toMatchObject({
      answer: 'yes',
      words: expect.stringMatching(/lean end for \d\.\d\d s of a pull/),
    });
    expect(causesOf(air)[0].id).toBe('sensor-in-air');
  });

  it('is not a lean mixture that an engine still pulls on', () => {
    const lean = subject({ change: inAir(0.95) });
    expect(lean.answers[0].verdict).toBe('fail');
    expect(cluesOf(lean)['lambda lies at its lean end'].answer).toBe('no');
    expect(causesOf(lean).map(({ id }) => id)).not.toContain('sensor-in-air');
  });
});
