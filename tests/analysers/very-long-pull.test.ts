import { describe, expect, it, vi } from 'vitest';
import { ANALYSERS } from '../../src/analysers/registry.ts';
import { worst } from '../../src/analysers/wording.ts';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { type ChannelData, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { normalDeviates } from '../support/drive-script.ts';

vi.setConfig({ testTimeout: 120_000 });

/** One pull of 4,000 s, as a loaded dynamometer makes it: more readings than the arguments that a call takes. */
function longDrive(lean: number) {
  const rateHz = 40;
  const [startS, endS] = [40, 4040];
  const deviate = normalDeviates(3);
  const time = Float64Array.from({ length: (endS + 20) * rateHz }, (_, i) => i / rateHz);
  const isPull = (t: number) => t >= startS && t < endS;
  const rpmAt = (t: number) =>
    t < 20 ? 820 : t < startS ? 2500 : t < endS ? 2500 + (4200 * (t - startS)) / (endS - startS) : 2500;
  const of = (value: (t: number) => number, noise = 0): ChannelData => ({
    time,
    values: time.map((t) => value(t) + noise * deviate()),
    rateHz,
  });
  const step = (pull: number, idle: number, cruise: number, noise: number) =>
    of((t) => (isPull(t) ? pull : t < 20 ? idle : cruise), noise);
  const channels = {
    engine_speed: of(rpmAt),
    accelerator_position: step(100, 0, 20, 0),
    manifold_pressure: step(180, 36, 60, 0.5),
    lambda: of((t) => (isPull(t) ? 0.82 + (Math.floor(t / 2) % 2) * lean : 1), 0.004),
    injector_pulse_width: step(11, 2.5, 3, 0),
    fuel_rail_pressure: step(380, 236, 260, 0),
    mass_air_flow: of((t) => rpmAt(t) * (isPull(t) ? 0.033 : 0.01)),
    charge_air_temperature: step(50, 35, 35, 0),
    coolant_temperature: of(() => 90),
    knock_retard_1: of((t) => (lean > 0 && isPull(t) && Math.floor(t) % 3 === 0 ? 6 : 0)),
  };
  const build = aBuild({ fullLoadLambda: 0.82 });
  return { drive: segmentDrive(recordingFrom({ channels, barometricKpa: 100 }), build), build };
}

describe('a pull of more than an hour', () => {
  it('breaks no analyser, and a lean mixture in it fails', () => {
    const { drive, build } = longDrive(0.13);
    expect(drive.pulls.some((pull) => pull.endS - pull.startS > 3900)).toBe(true);
    const limits = effectiveLimits(
      ANALYSERS.flatMap(({ meta }) => meta.limits),
      build,
      'build',
    );
    for (const analyser of ANALYSERS) {
      const { findings } = analyser.assess(drive, { build, limits, codes: [] });
      if (analyser.meta.id === 'mixture') expect(worst(findings)).toBe('fail');
    }
  });
});
