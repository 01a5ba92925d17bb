import { describe, expect, it, vi } from 'vitest';
import { type CaseOptions, FAULT_KINDS, simulateCase } from '../support/simulate.ts';
import { verdictsOn } from './assess.ts';
import { falseAlarms, outcomeOf } from './outcome.ts';

vi.setConfig({ testTimeout: 60_000 });

describe('healthy cars', () => {
  it.each(Array.from({ length: 12 }, (_, car) => car))('car %i raises no alarm', (car) => {
    expect(falseAlarms(verdictsOn(simulateCase({ seed: `sample ${car}`, short: true })))).toEqual([]);
  });
});

describe('one clear fault', () => {
  it.each(FAULT_KINDS)('%s is caught', (fault) => {
    const generated = simulateCase({
      seed: 'sample',
      fault,
      level: 'fail',
      rateHz: 20,
      logger: { polling: 'every-row' },
    });
    expect(outcomeOf(generated, verdictsOn(generated))).toBe('caught');
  });
});

describe('truth across rates', () => {
  it.each([1, 2, 5, 10, 20, 50, 100])('at %i Hz a healthy car raises no alarm', (rateHz) => {
    expect(falseAlarms(verdictsOn(simulateCase({ seed: 'rates', short: true, rateHz })))).toEqual([]);
  });

  it.each([1, 2, 5, 10, 20, 50, 100])('at %i Hz a fault is caught or said not to be seen, never passed', (rateHz) => {
    for (const fault of ['spike', 'overshoot', 'knock-repeat', 'base-fuel-lean'] as const) {
      const generated = simulateCase({
        seed: 'rates',
        short: true,
        fault,
        level: 'fail',
        rateHz,
        logger: { polling: 'every-row' },
      });
      expect(outcomeOf(generated, verdictsOn(generated)), fault).not.toBe('missed');
    }
  });
});

const LAYOUTS: Record<string, Partial<CaseOptions>> = {
  'wide, commas, seconds': { layout: {} },
  'semicolons, decimal comma, clock across midnight': {
    layout: { delimiter: ';', decimalChar: ',', time: 'clock', headerUnits: 'parentheses' },
  },
  'tabs, UTF-16, milliseconds': { layout: { delimiter: '\t', encoding: 'utf-16le', time: 'ms' } },
  'Windows-1252, suffix units, Fahrenheit and psi': {
    layout: { encoding: 'windows-1252', headerUnits: 'suffix' },
    system: 'american',
  },
  'preamble and units row, epoch': { layout: { preamble: 3, headerUnits: 'row', time: 'epoch_ms' }, system: 'bar' },
  'trailing delimiter, quotes, CRLF, missing tokens': {
    layout: { trailingDelimiter: true, quoted: true, newline: '\r\n', missing: 'N/A' },
    logger: { polling: 'blank' },
  },
  'no units in the header, minutes, millibar': { layout: { headerUnits: 'none', time: 'min' }, system: 'mbar' },
  'no time column': { layout: { time: 'none' }, logger: { jitter: 0, polling: 'every-row' } },
  'timestamps by ISO 8601, byte order mark': { layout: { time: 'iso8601', encoding: 'utf-8-bom' } },
  'long, a row per sample': { layout: { shape: 'long', time: 'us' } },
  'held values in turn': { layout: {}, logger: { polling: 'held', round: 2 } },
  'own time columns': { layout: {}, logger: { polling: 'own-time', round: 2 } },
};

describe('truth across layouts', () => {
  it.each(Object.entries(LAYOUTS))('%s', (_, options) => {
    const clean = simulateCase({ seed: 'layouts', short: true, rateHz: 20, ...options });
    expect(falseAlarms(verdictsOn(clean))).toEqual([]);
    const creep = simulateCase({ seed: 'layouts', short: true, rateHz: 20, fault: 'creep', level: 'fail', ...options });
    expect(outcomeOf(creep, verdictsOn(creep))).toBe('caught');
  });
});
