/** Something the person at the keyboard can mend: what was found, where, and how to mend it. Any other error is our bug. */
export class UserError extends Error {
  readonly what: string;
  readonly where: string | undefined;
  readonly mend: string | undefined;

  constructor(what: string, where?: string, mend?: string) {
    super([where ? `${where}: ${what}` : what, mend].filter(Boolean).join(' '));
    this.name = 'UserError';
    this.what = what;
    this.where = where;
    this.mend = mend;
  }
}
