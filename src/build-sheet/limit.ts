/** A limit as an analyser declares it. A value at or above `warn` warns, at or above `fail` fails. */
export interface LimitDefinition {
  readonly id: string;
  readonly title: string;
  readonly unit: string;
  readonly warn: number | undefined;
  readonly fail: number | undefined;
  readonly source: string;
}

/** A limit in force: the definition, or what the build sheet put in its place. */
export interface Limit extends LimitDefinition {
  readonly from: 'default' | 'build sheet';
}

export type LimitTable = ReadonlyMap<string, Limit>;

/** The limit in force. An id nobody declared is our own slip, never a user's. */
export function limitOf(limits: LimitTable, id: string): Limit {
  const limit = limits.get(id);
  if (!limit) throw new Error(`no limit named ${id} is declared`);
  return limit;
}

/** `fail` at or above the fail limit, `warn` at or above the warn limit, else `pass`. */
export function judge(value: number, limit: Limit): 'pass' | 'warn' | 'fail' {
  if (!Number.isFinite(value)) throw new Error(`${limit.id} came out as no number`);
  if (limit.fail !== undefined && value >= limit.fail) return 'fail';
  if (limit.warn !== undefined && value >= limit.warn) return 'warn';
  return 'pass';
}
