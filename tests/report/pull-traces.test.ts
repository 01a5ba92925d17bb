import { describe, expect, it } from 'vitest';
import { demoOutcome } from '../support/demo-outcome.ts';

describe('the traces of a demo log', () => {
  const { report, traces } = demoOutcome('saloon-knock-on-one-cylinder', 'second-visit.csv');

  it('follow the pulls of the report', () => {
    expect(traces.map(({ pull, startS, endS }) => [pull, startS, endS])).toEqual(
      report.pulls.map(({ id, start, end }) => [id, start, end]),
    );
  });

  it('hold what was judged: boost with its settled line, duty, mixture, retard by cylinder, charge', () => {
    for (const { tracks } of traces) {
      expect(tracks.map(({ id }) => id)).toEqual(['boost', 'duty', 'mixture', 'retard', 'charge']);
      expect(tracks[0].lines.map(({ role }) => role)).toEqual(['measured', 'settled']);
      expect(tracks[3].lines.map(({ label }) => label)).toEqual([
        'cylinder 1',
        'cylinder 2',
        'cylinder 3',
        'cylinder 4',
      ]);
    }
  });

  it('show the peaks that the report tells', () => {
    const finding = report.analysers.flatMap(({ findings }) => findings).find(({ id }) => id === 'timing-pull.peak');
    const [first] = traces[0].tracks[3].lines.filter(({ label }) => label === 'cylinder 3');
    const peak = Math.max(...first.runs.flat().map(([, , deg]) => deg));
    expect(peak).toBeCloseTo(finding?.measured?.value ?? Number.NaN, 1);
    const settled = traces[0].tracks[0].lines[1].runs.flat();
    expect(settled[0][2]).toBeCloseTo(report.pulls[0].settledBoost ?? Number.NaN, 0);
  });

  it('are plain data that can be handed on', () => {
    expect(structuredClone(traces)).toEqual(traces);
    expect(JSON.parse(JSON.stringify(traces))).toEqual(traces);
  });
});
