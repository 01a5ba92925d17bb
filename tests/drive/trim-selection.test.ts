import { describe, expect, it } from 'vitest';
import type { TrimReason } from '../../src/drive/trim/selection.ts';
import { totalTrim } from '../../src/drive/trim/total-trim.ts';
import { everySample } from '../support/build-recording.ts';
import { BRISK, IDLE, LIGHT, PULL, type TrimScript, trimDrive } from '../support/trim-drive.ts';

const survey = (script: Partial<TrimScript>) =>
  totalTrim(trimDrive({ holds: [IDLE, LIGHT], total: () => 5, ...script }));
const seconds = (script: Partial<TrimScript>, reason: TrimReason) =>
  survey(script).seconds.find((part) => part.reason === reason)?.seconds ?? 0;

describe('what is judged and what is left out', () => {
  it('accounts for every second of the log', () => {
    const { seconds: parts } = survey({ holds: [IDLE, LIGHT, ...PULL, BRISK] });
    expect(parts.reduce((sum, part) => sum + part.seconds, 0)).toBeCloseTo(166, 0);
  });

  it('leaves out a pull and two seconds after it', () => {
    const out = seconds({ holds: [LIGHT, ...PULL, LIGHT] }, 'full load and 2 s after');
    expect(out).toBeGreaterThan(6);
    expect(out).toBeLessThan(10);
  });

  it('leaves out the cold part', () => {
    expect(seconds({ coolant: (t) => 40 + t }, 'engine cold')).toBeCloseTo(30, 0);
  });

  it('leaves out open loop by status, and two seconds after', () => {
    const holds = [{ ...LIGHT, seconds: 20, status: 1 }, LIGHT];
    expect(seconds({ holds }, 'open loop and 2 s after')).toBeCloseTo(22, 0);
  });

  it('counts code 16 as closed loop and says so', () => {
    const found = survey({ holds: [{ ...LIGHT, status: 16 }] });
    expect(found.keptS).toBeGreaterThan(50);
    expect(found.selection.loop.note).toContain('16');
  });

  it('leaves out tip-ins', () => {
    const tip = { ...LIGHT, seconds: 2, pedal: 40, load: 75 };
    expect(seconds({ holds: [LIGHT, tip, LIGHT, tip, LIGHT] }, 'transient and 1.5 s after')).toBeGreaterThan(8);
  });

  it('leaves out fuel cut and two seconds after', () => {
    const cut = { seconds: 8, rpm: 2400, load: 8, pedal: 0, kmh: 60, status: 4 };
    expect(seconds({ holds: [LIGHT, cut, LIGHT] }, 'fuel cut and 2 s after')).toBeGreaterThan(8);
  });

  it('leaves out frozen trims where lambda is off and no status is logged', () => {
    const time = everySample(10, 119.9);
    const frozen = (t: number) => t > 60 && t < 90;
    const found = survey({
      holds: [LIGHT, LIGHT],
      drop: ['fuel_system_status'],
      extra: {
        lambda: { time, values: time.map((t) => (frozen(t) ? 0.9 : 1)) },
        short_term_fuel_trim_1: { time, values: time.map((t) => (frozen(t) ? 0 : 5 + Math.sin(5 * t))) },
      },
    });
    expect(found.selection.loop.inferred).toBe(true);
    expect(found.seconds.find((part) => part.reason === 'open loop and 2 s after')?.seconds).toBeGreaterThan(28);
    expect(found.banks[0].cells[0].medianPercent).toBeCloseTo(5, 0);
  });

  it('counts a start within the log as warm-up where no temperature is logged', () => {
    const off = { seconds: 3, rpm: 0, load: 0, pedal: 0, kmh: 0, status: 0 };
    const holds = [off, { ...IDLE, seconds: 100 }, { ...LIGHT, seconds: 200 }];
    const found = survey({ holds, drop: ['coolant_temperature'] });
    expect(found.seconds.find((part) => part.reason === 'engine cold')?.seconds).toBeCloseTo(180, -1);
    expect(found.selection.warmth.note).toContain('seen to start');
  });
});
