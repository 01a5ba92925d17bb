import { describe, expect, it } from 'vitest';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';

const sheet = (more: object) =>
  JSON.stringify(
    {
      pullgate: 'build/1',
      engine: { displacement: '2.0 L', cylinders: 4, redline: '6900 rpm' },
      ...more,
    },
    undefined,
    1,
  );
const read = (more: object) => parseBuildSheet(sheet(more), 'car.build.json');

describe('trouble codes of the build sheet', () => {
  it('are read as those of the command line are', () => {
    expect(read({ codes: [' p0171', 'U0100'], expect: { ignoreCodes: ['p0102'] } })).toMatchObject({
      codes: ['P0171', 'U0100'],
      expect: { ignoreCodes: ['P0102'] },
    });
    expect(read({ codes: ['none'] }).codes).toEqual(['NONE']);
    expect(read({ codes: [] }).codes).toEqual([]);
  });
  it.each([
    [{ codes: ['P0171', 'P99'] }, /car\.build\.json:\d+:\d+, codes\[1\]: "P99" is no trouble code\. A code is/],
    [{ expect: { ignoreCodes: ['Q0102'] } }, /car\.build\.json:\d+:\d+, expect\.ignoreCodes\[0\]: "Q0102" is no/],
    [{ expect: { ignoreCodes: ['none'] } }, /expect\.ignoreCodes\[0\]: "none" is no trouble code/],
    [{ codes: ['none', 'P0171'] }, /codes: "none" stands beside trouble codes/],
  ])('%j is refused with its place', (more, message) => {
    expect(() => read(more)).toThrow(message);
  });
  it('are told with every other slip at once', () =>
    expect(() => read({ codes: ['P99'], boost: { target: '1.2 bar', ceiling: '1 bar' } })).toThrow(/2 problems/));
});
