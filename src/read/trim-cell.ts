/** Cuts ASCII space and control characters from both ends of byte text; higher bytes may be halves of a character and stay. */
export function trimCell(byteText: string): string {
  let start = 0;
  let end = byteText.length;
  while (start < end && byteText.charCodeAt(start) <= 32) start++;
  while (end > start && byteText.charCodeAt(end - 1) <= 32) end--;
  return start === 0 && end === byteText.length ? byteText : byteText.slice(start, end);
}
