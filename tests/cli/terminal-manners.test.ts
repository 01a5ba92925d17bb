import { describe, expect, it } from 'vitest';
import { colourLevel } from '../../src/cli/colour-level.ts';
import type { Io } from '../../src/cli/io.ts';
import { progressLine } from '../../src/cli/progress-line.ts';

const level = (env: Record<string, string>, stdoutIsTerminal = true, wanted = true) =>
  colourLevel({ env, stdoutIsTerminal }, wanted);

describe('how much colour', () => {
  it.each([
    [{}, 1],
    [{ TERM: 'xterm-256color' }, 2],
    [{ TERM: 'xterm-256color', COLORTERM: 'truecolor' }, 3],
    [{ TERM: 'dumb' }, 0],
    [{ NO_COLOR: '1' }, 0],
    [{ NO_COLOR: '' }, 1],
    [{ NO_COLOR: '1', FORCE_COLOR: '1' }, 1],
    [{ FORCE_COLOR: '0' }, 0],
    [{ FORCE_COLOR: '2', TERM: 'dumb' }, 2],
    [{ FORCE_COLOR: '3' }, 3],
    [{ FORCE_COLOR: '', TERM: 'xterm-256color' }, 2],
  ])('%j on a terminal: %i', (env, expected) => {
    expect(level(env)).toBe(expected);
  });

  it('is none in a pipe unless forced, and none where refused', () => {
    expect(level({ TERM: 'xterm-256color' }, false)).toBe(0);
    expect(level({ FORCE_COLOR: 'true' }, false)).toBe(1);
    expect(level({ FORCE_COLOR: '' }, false)).toBe(0);
    expect(level({ FORCE_COLOR: '', NO_COLOR: '1' })).toBe(0);
    expect(level({ FORCE_COLOR: '1' }, true, false)).toBe(0);
  });
});

describe('the progress line', () => {
  const written = (io: Partial<Io>, wanted = true) => {
    const texts: string[] = [];
    const line = progressLine(
      { env: {}, stderrIsTerminal: true, err: (text) => texts.push(text), ...io } as Io,
      wanted,
      3,
    );
    for (const done of [1, 2, 3]) {
      line.clear();
      line.show(done);
    }
    line.clear();
    return texts.join('');
  };

  it('counts on a terminal and cleans up behind itself', () => {
    const erase = '\r\u001b[2K';
    expect(written({})).toBe(`${erase}1 of 3 logs${erase}2 of 3 logs${erase}${erase}`);
  });

  it('is silent anywhere else', () => {
    expect(written({ stderrIsTerminal: false })).toBe('');
    expect(written({ env: { TERM: 'dumb' } })).toBe('');
    expect(written({}, false)).toBe('');
  });
});
