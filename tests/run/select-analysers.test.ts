import { describe, expect, it } from 'vitest';
import { ANALYSER_IDS, ANALYSERS } from '../../src/analysers/registry.ts';
import { selectAnalysers } from '../../src/run/select-analysers.ts';

const chosen = (only: string[] | undefined, skip: string[]) =>
  selectAnalysers(ANALYSERS, only, skip).map((analyser) => analyser.meta.id);

describe('choosing analysers', () => {
  it('runs all unless told otherwise', () => {
    expect(chosen(undefined, [])).toEqual(ANALYSER_IDS);
  });

  it('keeps report order whatever the order asked for', () => {
    expect(chosen(['timing-pull', 'fuel-trim'], [])).toEqual(['fuel-trim', 'timing-pull']);
    expect(chosen(undefined, ['fuel-trim'])).toEqual(ANALYSER_IDS.filter((id) => id !== 'fuel-trim'));
  });

  it('tells unknown ids with near ones', () => {
    expect(() => chosen(['boost-spik'], [])).toThrow(
      '--only: There is no analyser "boost-spik". Did you mean "boost-spike"?',
    );
    expect(() => chosen(undefined, ['xyz'])).toThrow(/--skip.*Analysers are: fuel-trim, /);
  });

  it('refuses to run none', () => {
    expect(() => chosen(['fuel-trim'], ['fuel-trim'])).toThrow('No analyser is left to run.');
  });
});
