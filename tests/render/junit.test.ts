import { describe, expect, it } from 'vitest';
import { junitRenderer } from '../../src/render/junit.ts';
import type { FailOn } from '../../src/report/gate.ts';
import type { Report } from '../../src/report/report-schema.ts';
import { type Outcome, summarise } from '../../src/report/summarise.ts';
import { HOSTILE_TEXTS, hostileReport } from '../support/hostile-report.ts';
import { sampleReport } from '../support/sample-report.ts';
import { allElements, childElements, parseStrictXml, textOf } from '../support/strict-xml.ts';
import { junitFaults } from './junit-schema.ts';

const render = (outcomes: readonly Outcome[], failOn: FailOn = 'fail') => {
  const root = parseStrictXml(junitRenderer({ failOn }).end(summarise(outcomes)));
  expect(junitFaults(root)).toEqual([]);
  return root;
};

const caseOf = (report: Report, id: string, failOn: FailOn = 'fail') => {
  const found = allElements(render([{ report }], failOn)).find(
    ({ name, attributes }) => name === 'testcase' && attributes.name === id,
  );
  if (!found) throw new Error(`no case ${id}`);
  return found;
};

const childOf = (report: Report, id: string, failOn: FailOn = 'fail') => childElements(caseOf(report, id, failOn))[0];

const warned = (): Report => {
  const report = sampleReport({ gate: 'warn' });
  const [duty, ...rest] = report.analysers;
  const [finding] = duty.findings;
  return {
    ...report,
    analysers: [{ ...duty, verdict: 'warn', findings: [{ ...finding, verdict: 'warn' }] }, ...rest],
  };
};

describe('JUnit XML', () => {
  it('makes a suite of each log, with its inputs, and a case of each analyser', () => {
    const [suite] = childElements(render([{ report: sampleReport() }]));
    expect(suite.attributes).toMatchObject({
      name: 'bay-2/run.csv',
      tests: '3',
      failures: '1',
      errors: '0',
      skipped: '1',
    });
    const properties = childElements(childElements(suite, 'properties')[0]).map(({ attributes }) => attributes.value);
    for (const { sha256 } of [sampleReport().log, sampleReport().mapping, sampleReport().build]) {
      expect(properties).toContain(sha256);
    }
  });

  it('makes a failure of a fail, with numbers, place and what next', () => {
    const failure = childOf(sampleReport(), 'injector-duty');
    expect(failure.name).toBe('failure');
    expect(failure.attributes).toEqual({
      type: 'fail',
      message: 'Injector duty reaches 94.3 % at 6,700 rpm: there is no injector left.',
    });
    expect(textOf(failure)).toContain('measured: 94.3 % (93.1 to 95.4)');
    expect(textOf(failure)).toContain('where: pull 1, 46.8 to 47.9 s, 6,350 to 6,720 rpm');
    expect(textOf(failure)).toContain('next: Check fuel pressure under load.');
  });

  it('passes a pass, and skips what could not be assessed, with the reason', () => {
    expect(childOf(sampleReport(), 'boost-creep')).toBeUndefined();
    const skipped = childOf(sampleReport(), 'timing-pull');
    expect(skipped.name).toBe('skipped');
    expect(skipped.attributes.message).toContain('Neither knock retard nor spark advance');
    expect(skipped.attributes.message).toContain('Would help: knock_retard;');
  });

  it('passes a warning and tells it in system-out; under --fail-on warn it is a failure', () => {
    expect(childOf(warned(), 'injector-duty')).toBeUndefined();
    const out = (failOn: FailOn) =>
      textOf(childElements(childElements(render([{ report: warned() }], failOn))[0], 'system-out')[0]);
    expect(out('fail')).toContain('WARN injector-duty: Injector duty reaches');
    expect(childOf(warned(), 'injector-duty', 'warn').attributes.type).toBe('warn');
    expect(out('warn')).toBe('');
  });

  it('makes an error of an analyser that broke down and of a log that could not be read', () => {
    const [duty, ...rest] = sampleReport().analysers;
    const crashed: Report['analysers'][number] = {
      ...duty,
      verdict: 'not-assessed',
      findings: [{ ...duty.findings[0], id: 'injector-duty.crashed', verdict: 'not-assessed' }],
    };
    const error = childOf(sampleReport({ analysers: [crashed, ...rest] }), 'injector-duty');
    expect([error.name, error.attributes.type]).toEqual(['error', 'crashed']);
    const root = render([{ unusable: { file: 'b.csv', error: 'b.csv: nothing in it.' } }]);
    expect(childElements(childElements(childElements(root)[0], 'testcase')[0])[0].attributes).toEqual({
      type: 'unusable',
      message: 'b.csv: nothing in it.',
    });
  });

  it('never looks green while the gate is closed', () => {
    const open = sampleReport().analysers.slice(2);
    const nothing = sampleReport({ gate: 'not-assessed', analysers: open });
    expect(childOf(nothing, 'gate').name).toBe('failure');
    const required = sampleReport({ gate: 'warn', analysers: sampleReport().analysers.slice(1) });
    expect(childOf(required, 'gate', 'warn').name).toBe('failure');
    expect(() => caseOf(required, 'gate', 'fail')).toThrow('no case gate');
  });

  it('is empty but valid for no log at all', () => {
    expect(childElements(render([]))).toEqual([]);
  });

  it.each(HOSTILE_TEXTS)('stays valid and adds no element: %j', (hostile) => {
    const root = render([{ report: hostileReport(hostile) }, { unusable: { file: hostile, error: hostile } }], 'warn');
    const names = new Set(allElements(root).map(({ name }) => name));
    const known = [
      'testsuites',
      'testsuite',
      'properties',
      'property',
      'testcase',
      'failure',
      'error',
      'skipped',
      'system-out',
      'system-err',
    ];
    expect([...names].filter((name) => !known.includes(name))).toEqual([]);
    expect(allElements(root).filter(({ name }) => name === 'testcase')).toHaveLength(4);
  });
});

describe('the schema check', () => {
  const valid = junitRenderer({ failOn: 'fail' }).end(summarise([{ report: sampleReport() }]));
  it.each([
    [' hostname="localhost"', '', 'without hostname'],
    ['T00:00:00"', 'T00:00:00Z"', 'timestamp'],
    ['tests="3"', 'tests="4"', 'tests is 4'],
    ['<system-err></system-err>', '', 'children'],
    [' classname="bay-2/run.csv" time="0"/>', '/>', 'without classname'],
    ['<failure type="fail"', '<failure', 'without type'],
  ])('sees %s become %j', (from, to, fault) => {
    expect(valid).toContain(from);
    expect(junitFaults(parseStrictXml(valid.replace(from, to))).join()).toContain(fault);
  });
});
