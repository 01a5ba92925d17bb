import { describe, expect, it } from 'vitest';
import type { TimeUnit } from '../../src/channels/mapping-schema.ts';
import { refuseNoClock, unusualPace } from '../../src/channels/unusual-pace.ts';

const even = (stepS: number, rows = 100) => Float64Array.from({ length: rows }, (_, i) => i * stepS);
const pace = (stepS: number, unit: TimeUnit, rows?: number) => unusualPace(even(stepS, rows), unit, '"t"');

describe('how far rows lie apart', () => {
  it.each([
    [0.05, 's'],
    [5, 's'],
    [1, 'clock'],
    [0.001, 'ms', 10_000],
  ] as const)('%d s in %s is a log', (stepS, unit, rows?: number) => {
    expect(pace(stepS, unit, rows)).toBeUndefined();
  });

  it.each([
    [50, 's', 'read in s, puts the rows 50 s apart', '"unit": "ms"'],
    [20_000, 's', 'puts the rows 20000 s apart', '"unit": "us"'],
    [0.00005, 'ms', 'puts the rows 0.00005 s apart', '"unit": "s"'],
    [0.001, 'ms', 'puts the rows 0.001 s apart', '"unit": "s"'],
    [6, 'min', 'puts the rows 6 s apart', '"unit": "s"'],
  ] as const)('%d s in %s is a unit mistaken', (stepS, unit, what, mend) => {
    expect(() => pace(stepS, unit)).toThrow(what);
    expect(() => pace(stepS, unit)).toThrow(mend);
  });

  it('is only doubted where the time is a time of day, or the rows are few', () => {
    expect(pace(60, 'clock')).toBe('Rows lie 60 s apart, which is unusual; check the unit of time in the mapping.');
    expect(pace(60, 'iso8601')).toContain('unusual');
    expect(pace(50, 's', 9)).toContain('unusual');
    expect(pace(50, 's', 1)).toBeUndefined();
  });
});

describe('a clock', () => {
  const sawtooth = (rows: number, period: number) => Float64Array.from({ length: rows }, (_, i) => i % period);

  it('may start again', () => {
    expect(() => refuseNoClock(sawtooth(1000, 100), 10, '"t"')).not.toThrow();
    expect(() => refuseNoClock(sawtooth(1000, 20), 50, '"t"')).not.toThrow();
  });

  it('does not go back all the time', () => {
    expect(() => refuseNoClock(sawtooth(1000, 3), 333, '"t"')).toThrow('"t" goes back in 333 of 1000 rows');
  });
});
