const LONGEST_SHOWN = 60;

/** A text of a file in a sentence: in quotes, its start only where it is long. */
export function shownText(text: string): string {
  return `"${text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)}…` : text}"`;
}
