/** Columns aligned with spaces, rewritten with one tab between cells, so that the rest of the reader need not know. */
export function collapseSpaces(byteText: string): string {
  return byteText
    .replace(/[ \t]+/g, '\t')
    .replace(/(^|[\r\n])\t/g, '$1')
    .replace(/\t(?=[\r\n]|$)/g, '');
}
