import { expect } from 'vitest';
import { UserError } from '../../src/kernel/user-error.ts';

/** Does something with hostile input: it works, or it is refused in words that help; anything else is thrown on. */
export function onlyUserErrors<T>(work: () => T): T | UserError {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    expect(error.message).not.toMatch(/undefined|\[object|\bNaN\b|function/);
    expect(error.message.length).toBeLessThan(8000);
    return error;
  }
}
