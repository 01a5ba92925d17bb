import { describe, expect, it } from 'vitest';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { gateReason } from '../../src/render/gate-words.ts';
import { handbackPage } from '../../src/render/terminal/handback-page.ts';
import { noPaint } from '../../src/render/terminal/paint.ts';
import { gateIsOpen, openItems, rollUpGate } from '../../src/report/gate.ts';
import { handbackFacts, handbackRecord } from '../../src/report/handback-record.ts';
import { HandbackFacts } from '../../src/report/handback-schema.ts';
import { aBuild } from '../support/build-sheet.ts';
import { sampleReport } from '../support/sample-report.ts';

const passing = [{ id: 'fuel-trim', verdict: 'pass' as const }];
const done = { item: 'Fault memory read and clear', done: true };
const open = { item: 'Road test with the owner', done: false };

describe('the handback list at the gate', () => {
  it('closes the gate under --fail-on warn until every item is done', () => {
    expect(rollUpGate(passing, [], [done])).toBe('pass');
    const gate = rollUpGate(passing, [], [done, open]);
    expect(gate).toBe('warn');
    expect(gateIsOpen(gate, 'warn')).toBe(false);
    expect(gateIsOpen(gate, 'fail')).toBe(true);
    expect(openItems([done, open])).toEqual([open]);
  });

  it('neither softens a fail nor stands for an assessment', () => {
    expect(rollUpGate([{ id: 'x', verdict: 'fail' }], [], [open])).toBe('fail');
    expect(rollUpGate([], [], [done])).toBe('not-assessed');
  });

  it('is told as the reason', () => {
    const report = sampleReport({ gate: 'warn' });
    expect(gateReason(report, false)).toBe('There are warnings. 1 handback item is not done.');
    const calm = { ...report, analysers: report.analysers.filter(({ verdict }) => verdict === 'pass') };
    expect(gateReason(calm, false)).toBe('Nothing fails, but 1 handback item is not done.');
    expect(gateReason({ ...report, handback: [done] }, false)).toBe('There are warnings.');
  });
});

const limits: LimitTable = new Map([
  [
    'injector-duty.peak',
    { id: 'injector-duty.peak', title: '', unit: '%', warn: 80, fail: 90, source: '', from: 'build sheet' },
  ],
  [
    'timing-pull.repeat',
    { id: 'timing-pull.repeat', title: '', unit: 'deg', warn: undefined, fail: 3, source: '', from: 'default' },
  ],
]);
const build = aBuild({
  injectors: { flowCcMin: 640, fuelPressureKpa: 300 },
  boost: { control: 'manual', targetKpa: 80 },
});
const facts = handbackFacts(build, limits);
const report = sampleReport({ handbackRecord: facts });

describe('the handback record', () => {
  it('holds car, evidence, limits, verdicts, open items and cautions', () => {
    expect(HandbackFacts.parse(facts)).toEqual(facts);
    const record = handbackRecord(report);
    expect(record?.facts).toEqual([
      { name: 'Engine', value: '2.00 L, 4 cylinders, 4-stroke, redline 6,900 rpm' },
      { name: 'Fuel', value: 'injectors 640 cc/min, pressure 300.0 kPa' },
      { name: 'Boost', value: 'control manual, target 80.0 kPa' },
    ]);
    expect(record?.sources.map(({ sha256 }) => sha256)).toEqual([
      report.build.sha256,
      report.log.sha256,
      report.mapping.sha256,
    ]);
    expect(record?.verdicts.map(({ verdict }) => verdict)).toEqual(['fail', 'pass', 'not-assessed']);
    expect(record?.done).toEqual(['Fault memory read and clear']);
    expect(record?.open).toEqual([
      'Not done: Road test with the owner',
      'Fails: Injector duty reaches 94.3 % at 6,700 rpm: there is no injector left.',
      'Not assessed: Timing pull.',
    ]);
    expect(record?.cautions.length).toBeGreaterThanOrEqual(5);
  });

  it('is not there without a handback list', () => {
    expect(handbackRecord(sampleReport())).toBeUndefined();
    expect(handbackPage(sampleReport(), 80, noPaint)).toEqual([]);
  });

  it('fills a page with whole hashes, the limits used and lines to sign', () => {
    const page = handbackPage(report, 80, noPaint);
    const text = page.join('\n');
    expect(page.length).toBeLessThan(66);
    expect(Math.max(...page.map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(text).toContain(report.log.sha256);
    expect(text).toContain('injector-duty.peak* 80/90 %; timing-pull.repeat –/3°.');
    expect(text).toMatch(/Workshop {2}_+ +Date {2}_+/);
    expect(text).toMatch(/Owner +_+ +Date {2}_+/);
    expect(text).toContain('Not done: Road test with the owner');
  });
});
