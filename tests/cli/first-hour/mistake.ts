export type Files = Readonly<Record<string, string | Buffer | object | undefined>>;

/**
 * One mistake of a first hour: its name, what lies in the folder over a good log, mapping and build sheet (undefined: not there), how the
 * program is run, how it ends, and what must be said: what is wrong, and how to mend it.
 */
export type Mistake = readonly [name: string, files: Files, args: string, exit: 0 | 1 | 2, says: readonly string[]];
