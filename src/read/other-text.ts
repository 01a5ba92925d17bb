import { UserError } from '../kernel/user-error.ts';

/** What our own files say of their kind near their start. */
const OWN_KIND = /"pullgate"\s*:\s*"(map|build|report|summary|survey)\//;

const OWN: Readonly<Record<string, readonly [what: string, mend: string]>> = {
  map: ['this is a mapping, not a log.', 'Give it with --map, and name a log beside it.'],
  build: ['this is a build sheet, not a log.', 'Give it with --build, and name a log beside it.'],
};
const REPORT = ['this is a report of pullgate, not a log.', 'Name the log that it was made from.'] as const;
const JSON_TEXT = ['this is JSON, not a log in CSV.', 'Export the log as CSV from the logging software.'] as const;
const MARKUP = ['this is a web page or another marked-up text, not a log in CSV.', JSON_TEXT[1]] as const;

/** Refuses text that is no table: our own settings and reports, other JSON, markup. `head` is the start of the file, ASCII-compatible. */
export function refuseOtherText(head: Uint8Array, name: string): void {
  let at = 0;
  while (at < head.length && (head[at] <= 32 || head[at] > 126)) at++;
  const first = String.fromCharCode(head[at] ?? 0);
  if (!'{[/<'.includes(first)) return;
  const text = Buffer.from(head.subarray(at)).toString('latin1');
  const told = textKind(text);
  if (told) throw new UserError(told[0], name, told[1]);
}

function textKind(text: string): readonly [what: string, mend: string] | undefined {
  const own = OWN_KIND.exec(text)?.[1];
  if (own && /^(\{|\/[/*])/.test(text)) return OWN[own] ?? REPORT;
  if (/^(\{\s*"[^"\n]*"\s*:|\[\s*[{[])/.test(text)) return JSON_TEXT;
  return /^<(!doctype|html|\?xml)\b/i.test(text) ? MARKUP : undefined;
}
