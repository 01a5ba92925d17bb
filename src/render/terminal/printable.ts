/** Control characters (C0, DEL, C1), text direction marks and other invisible ones: none may reach a terminal. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
const UNSAFE = /[\u0000-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/g;

/** Safe to print on one line: white space becomes a blank, anything unsafe its code, such as `\x1b`. */
export function printable(text: string): string {
  return text.replace(/[\t\r\n]+/g, ' ').replace(UNSAFE, (character) => {
    const code = character.charCodeAt(0);
    return code < 256 ? `\\x${code.toString(16).padStart(2, '0')}` : `\\u${code.toString(16).padStart(4, '0')}`;
  });
}
