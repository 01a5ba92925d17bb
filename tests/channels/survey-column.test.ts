import { describe, expect, it } from 'vitest';
import { columnFacts } from '../../src/channels/survey-column.ts';
import { columnFault } from '../../src/channels/survey-faults.ts';
import { traceLine } from '../../src/channels/survey-trace.ts';
import { tableOf } from './normalise-csv.ts';

const columnOf = (cells: readonly (string | number)[]) =>
  tableOf(['t,x', ...cells.map((cell, i) => `${i},${cell}`)].join('\n')).columns[1];

const every = (n: number, rateHz: number) => Float64Array.from({ length: n }, (_, i) => i / rateHz);

describe('columnFacts', () => {
  it('sees through held values: rows at 20 Hz, updates at 4 Hz', () => {
    const cells = Array.from({ length: 600 }, (_, i) => (50 + 40 * Math.sin(Math.floor(i / 5) / 3)).toFixed(2));
    const facts = columnFacts({ column: columnOf(cells), time: every(600, 20) });
    expect(facts.rowRateHz).toBeCloseTo(20, 1);
    expect(facts.rateHz).toBeCloseTo(4, 1);
    expect(facts.heldRows).toBeCloseTo(5, 1);
  });

  it('tells range, step and coverage', () => {
    const cells = Array.from({ length: 100 }, (_, i) => (i % 4 === 0 ? '' : (i % 10) * 0.5));
    expect(columnFacts({ column: columnOf(cells), time: every(100, 10) })).toMatchObject({
      min: 0,
      max: 4.5,
      step: 0.5,
      coverage: 0.75,
      distinct: 10,
    });
  });

  it('says nothing of rates where the log tells no time', () => {
    const facts = columnFacts({ column: columnOf([1, 2, 3, 4]), time: undefined });
    expect(facts).toMatchObject({ rateHz: undefined, rowRateHz: undefined, min: 1, max: 4 });
  });

  it('holds words apart from numbers', () => {
    const facts = columnFacts({ column: columnOf(['OL', 'CL', 'OL', 'CL']), time: every(4, 1) });
    expect(facts).toMatchObject({ kind: 'text', labels: ['OL', 'CL'], coverage: 1, min: undefined });
    expect(facts.trace.every((value) => value === null)).toBe(true);
  });
});

describe('traceLine', () => {
  it('runs from lowest to highest', () => {
    expect(traceLine(every(8, 1), Float64Array.from([0, 0, 5, 5, 10, 10, 0, 0]), 4)).toEqual([0, 0.5, 1, 0]);
  });

  it('has no value where the log has none', () => {
    expect(traceLine(Float64Array.from([0, 1, 9, 10]), Float64Array.from([1, 1, 3, 3]), 5)).toEqual([
      0,
      null,
      null,
      null,
      1,
    ]);
  });

  it('lies in the middle where nothing changes', () => {
    expect(traceLine(undefined, Float64Array.from([7, 7]), 2)).toEqual([0.5, 0.5]);
  });
});

describe('columnFault', () => {
  const factsOf = (cells: readonly (string | number)[]) =>
    columnFacts({ column: columnOf(cells), time: every(cells.length, 1) });

  it('tells dead from stuck from empty', () => {
    expect(columnFault(factsOf([0, 0, 0, 0]), 'mass_air_flow')?.kind).toBe('dead');
    expect(columnFault(factsOf([12, 12, 12, 12]), 'intake_air_temperature')?.kind).toBe('stuck');
    expect(columnFault(factsOf(['', '', '', '']), undefined)?.kind).toBe('empty');
  });

  it('lets stay what may stay: air pressure, retard, codes', () => {
    expect(columnFault(factsOf([99, 99, 99]), 'barometric_pressure')).toBeUndefined();
    expect(columnFault(factsOf([0, 0, 0]), 'knock_retard_2')).toBeUndefined();
    expect(columnFault(factsOf([0, 0, 0]), 'malfunction_lamp')).toBeUndefined();
    expect(columnFault(factsOf([1, 2, 3]), 'mass_air_flow')).toBeUndefined();
  });
});
