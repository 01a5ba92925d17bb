/** A message is read by a person: what a file puts into it cannot make it endless. */
const LONGEST_PART = 4000;

const cut = (text: string) => (text.length > LONGEST_PART ? `${text.slice(0, LONGEST_PART)}…` : text);

/** Something the person at the keyboard can mend: what was found, where, and how to mend it. Any other error is our bug. */
export class UserError extends Error {
  readonly what: string;
  readonly where: string | undefined;
  readonly mend: string | undefined;

  constructor(what: string, where?: string, mend?: string) {
    const told = { what: cut(what), where: where && cut(where), mend: mend && cut(mend) };
    super([told.where ? `${told.where}: ${told.what}` : told.what, told.mend].filter(Boolean).join(' '));
    this.name = 'UserError';
    this.what = told.what;
    this.where = told.where;
    this.mend = told.mend;
  }
}
