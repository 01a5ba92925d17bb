/** What XML 1.0 allows in a document (production 2, Char). Everything else cannot even be written as a reference and is dropped. */
const FORBIDDEN = /[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu;

const REFERENCES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

export function xmlText(text: string): string {
  return text.replace(FORBIDDEN, '').replace(/[&<>\r]/g, (sign) => REFERENCES[sign]);
}

/** Between double quotes. White space is kept by reference, or a parser would make blanks of it. */
export function xmlAttribute(text: string): string {
  return text.replace(FORBIDDEN, '').replace(/[&<>"'\t\n\r]/g, (sign) => REFERENCES[sign]);
}
