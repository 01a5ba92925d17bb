import { describe, expect, it } from 'vitest';
import { printable } from '../../../src/render/terminal/printable.ts';

describe('printable', () => {
  it('shows control characters as their codes', () => {
    expect(printable('\u001b[2Jgone\u0007')).toBe('\\x1b[2Jgone\\x07');
    expect(printable('\u009b31m')).toBe('\\x9b31m');
    expect(printable('abc\u202egnp.exe')).toBe('abc\\u202egnp.exe');
  });

  it('shows invisible ones too: tags, soft hyphen, annotation', () => {
    expect(printable('a\u{e0041}b\u00adc\ufff9')).toBe('a\\u{e0041}b\\xadc\\ufff9');
  });

  it('keeps a text on one line', () => {
    expect(printable('a\r\nb\tc')).toBe('a b c');
  });

  it('keeps what people write', () => {
    expect(printable('Ölmotor 95 °C – λ 0,82 ≥ ½')).toBe('Ölmotor 95 °C – λ 0,82 ≥ ½');
  });
});
