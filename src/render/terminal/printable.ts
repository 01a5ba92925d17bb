/** Control characters (C0, DEL, C1), text direction marks, tags and other invisible ones: none may reach a terminal. */
const UNSAFE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]|\udb40[\udc00-\udfff]/g;

/** Safe to print on one line: white space becomes a blank, anything unsafe its code, such as `\x1b`. */
export function printable(text: string): string {
  if (text.search(UNSAFE) < 0) return text;
  return text.replace(/[\t\r\n]+/g, ' ').replace(UNSAFE, (character) => {
    const code = character.codePointAt(0) as number;
    const digits = code.toString(16);
    if (code > 0xffff) return `\\u{${digits}}`;
    return code < 256 ? `\\x${digits.padStart(2, '0')}` : `\\u${digits.padStart(4, '0')}`;
  });
}
