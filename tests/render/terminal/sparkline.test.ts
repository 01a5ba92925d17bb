import { describe, expect, it } from 'vitest';
import { shortened, sparkline } from '../../../src/render/terminal/sparkline.ts';

describe('sparkline', () => {
  it('rises from the lowest mark to the highest', () => {
    expect(sparkline([0, 0.5, 1, null], false)).toBe('▁▅█ ');
    expect(sparkline([0, 0.5, 1, null], true)).toMatch(/^[\x20-\x7e]{4}$/);
  });

  it('is shortened by the mean of neighbours', () => {
    expect(shortened([0, 1, null, 1, null, null], 3)).toEqual([0.5, 1, null]);
    expect(shortened([0, 1], 10)).toEqual([0, 1]);
  });
});
