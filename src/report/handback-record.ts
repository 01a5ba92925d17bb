import type { Finding } from '../analysers/finding.ts';
import type { Build } from '../build-sheet/build.ts';
import type { LimitTable } from '../build-sheet/limit.ts';
import { formatQuantity, groupThousands } from '../kernel/format-number.ts';
import { STANDING_CAUTIONS } from './cautions.ts';
import { openItems } from './gate.ts';
import type { HandbackFacts } from './handback-schema.ts';
import { leadFinding } from './key-findings.ts';
import type { Report } from './report-schema.ts';

/** The car and its build as the sheet tells it, and the limits in force. */
export function handbackFacts(build: Build, limits: LimitTable): HandbackFacts {
  return {
    car: carLines(build),
    limits: [...limits.values()].map(({ id, warn, fail, unit, from }) => ({
      id,
      ...(warn !== undefined && { warn }),
      ...(fail !== undefined && { fail }),
      unit,
      from,
    })),
  };
}

function carLines({ engine, injectors, boost, bottomEnd, ethanolPercent, airflow }: Build): HandbackFacts['car'] {
  const told = (name: string, parts: readonly (string | undefined)[]) => {
    const value = parts.filter((part) => part !== undefined).join(', ');
    return value === '' ? [] : [{ name, value }];
  };
  const quantity = (value: number | undefined, unit: string, before = '') =>
    value === undefined ? undefined : `${before}${formatQuantity(value, unit)}`;
  return [
    ...told('Engine', [
      `${engine.displacementL.toFixed(2)} L`,
      `${engine.cylinders} cylinders`,
      `${engine.strokes}-stroke`,
      `redline ${groupThousands(engine.redlineRpm)} rpm`,
      airflow,
    ]),
    ...told('Fuel', [
      quantity(ethanolPercent, '%', 'ethanol '),
      quantity(injectors.flowCcMin, 'cc/min', 'injectors '),
      quantity(injectors.fuelPressureKpa, 'kPa', 'pressure '),
      injectors.regulator,
    ]),
    ...told('Boost', [
      boost.control === undefined ? undefined : `control ${boost.control}`,
      quantity(boost.targetKpa, 'kPa', 'target '),
      quantity(boost.ceilingKpa, 'kPa', 'ceiling '),
    ]),
    ...told('Bottom end', [
      quantity(bottomEnd.torqueLimitNm, 'N m', 'torque limit '),
      quantity(bottomEnd.maxEthanolPercent, '%', 'ethanol at most '),
    ]),
  ];
}

/** One page for the owner's folder: what was done to which car, on what evidence, and what is still open. */
export interface HandbackRecord {
  readonly car: string;
  readonly facts: HandbackFacts['car'];
  readonly sources: readonly { readonly name: string; readonly title: string; readonly sha256: string }[];
  readonly gate: Report['gate'];
  readonly verdicts: readonly {
    readonly verdict: Report['gate'];
    readonly question: string;
    readonly measured: Finding['measured'];
    readonly limit: Finding['limit'];
  }[];
  readonly limits: HandbackFacts['limits'];
  readonly done: readonly string[];
  /** Items not done, questions not answered, and what warns or fails: nobody signs over these unseen. */
  readonly open: readonly string[];
  readonly cautions: readonly string[];
}

/** The record of one log's report; nothing where the build sheet has no handback list. */
export function handbackRecord(report: Report): HandbackRecord | undefined {
  const { handbackRecord: facts, handback, log, mapping, build, analysers } = report;
  if (!facts) return undefined;
  const told = (verdict: string) =>
    analysers.filter((answer) => answer.verdict === verdict).map(({ summary }) => summary);
  const unanswered = analysers.filter((answer) => answer.verdict === 'not-assessed').map(({ title }) => title);
  return {
    car: build.title,
    facts: facts.car,
    sources: [
      { name: 'Build sheet', title: build.title, sha256: build.sha256 },
      { name: 'Log', title: log.file, sha256: log.sha256 },
      { name: 'Mapping', title: mapping.title, sha256: mapping.sha256 },
    ],
    gate: report.gate,
    verdicts: analysers.map((answer) => {
      const { measured, limit } = leadFinding(answer) ?? {};
      return { verdict: answer.verdict, question: answer.title, measured, limit };
    }),
    limits: facts.limits,
    done: handback.filter(({ done }) => done).map(({ item }) => item),
    open: [
      ...openItems(handback).map(({ item }) => `Not done: ${item}`),
      ...told('fail').map((summary) => `Fails: ${summary}`),
      ...told('warn').map((summary) => `Warns: ${summary}`),
      ...(unanswered.length > 0 ? [`Not assessed: ${unanswered.join(', ')}.`] : []),
    ],
    cautions: STANDING_CAUTIONS,
  };
}
