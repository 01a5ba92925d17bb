import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

interface Example {
  readonly file: string;
  readonly expression: string;
  readonly promised: string;
}

function examplesIn(room: string): Example[] {
  const folder = new URL(`../../src/${room}/`, import.meta.url);
  return readdirSync(folder).flatMap((name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    return [...text.matchAll(/@example (.*)$/gm)].map(([, line]) => {
      const [expression, promised] = line.replace(/\s*\*\/$/, '').split(' // => ');
      return { file: `${room}/${name}`, expression, promised };
    });
  });
}

function evaluate(expression: string, scope: Record<string, unknown>): unknown {
  return new Function(...Object.keys(scope), `return (${expression})`)(...Object.values(scope));
}

/** Rounds every number inside to as many decimals as the comment prints, and turns typed arrays into plain ones. */
function rounded(value: unknown, decimals: number): unknown {
  if (typeof value === 'number') return Number(value.toFixed(decimals)) + 0;
  if (ArrayBuffer.isView(value)) return Array.from(value as Float64Array, (v) => rounded(v, decimals));
  if (Array.isArray(value)) return value.map((v) => rounded(v, decimals));
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([key, v]) => [key, rounded(v, decimals)]));
  }
  return value;
}

const examples = [...examplesIn('signal'), ...examplesIn('engine')];

describe('what the doc comments promise', () => {
  test('there are examples to run', () => {
    expect(examples.length).toBeGreaterThan(30);
  });

  test.each(examples)('$file: $expression is $promised', async ({ file, expression, promised }) => {
    const scope = await import(new URL(`../../src/${file}`, import.meta.url).href);
    const decimals = Math.max(0, ...[...promised.matchAll(/\.(\d+)/g)].map(([, digits]) => digits.length));
    // A whole number is a promise of exactness.
    const compared = decimals === 0 ? 12 : decimals;
    expect(rounded(evaluate(expression, scope), compared)).toEqual(rounded(evaluate(promised, {}), compared));
  });
});
