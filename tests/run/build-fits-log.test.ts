import { describe, expect, it } from 'vitest';
import { refuseWrongRedline } from '../../src/run/build-fits-log.ts';
import { recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';

const RATE_HZ = 20;

/** 60 s at 3,000 rpm with a stretch at another speed in the middle. */
function beyond(rpm: number, forS: number, redlineRpm = 6900) {
  const time = Float64Array.from({ length: 60 * RATE_HZ }, (_, i) => i / RATE_HZ);
  const values = time.map((t) => (t >= 30 && t < 30 + forS ? rpm : 3000));
  const recording = recordingFrom({ channels: { engine_speed: { time, values } } });
  const build = aBuild({ engine: { redlineRpm } });
  return () => refuseWrongRedline(build, recording, 'b.json');
}

describe('a redline that the log runs past', () => {
  it('for seconds is refused with both numbers', () => {
    expect(beyond(7700, 10)).toThrow(
      'b.json, engine.redline: the redline is 6,900 rpm, and the engine ran 10 s beyond it, up to 7,700 rpm. Correct the redline',
    );
  });

  it.each([
    ['a slip of the lever', 8500, 1.5],
    ['a limiter that cuts a little late', 7400, 30],
    ['below', 6800, 30],
  ])('is not doubted for %s', (_, rpm, forS) => {
    expect(beyond(rpm, forS)).not.toThrow();
  });

  it('is not asked of a log without engine speed, or of two samples hours apart', () => {
    const none = recordingFrom({ channels: { coolant_temperature: { time: [0, 1], values: [90, 90] } } });
    expect(() => refuseWrongRedline(aBuild(), none, 'b.json')).not.toThrow();
    const sparse = recordingFrom({ channels: { engine_speed: { time: [0, 7200], values: [8000, 8000] } } });
    expect(() => refuseWrongRedline(aBuild(), sparse, 'b.json')).not.toThrow();
  });
});
