/** A vehicle identification number by ISO 3779: 17 characters, no I, O or Q. At least one digit and one letter, so that plain numbers stay. */
const VIN = /(?<![A-Z0-9])[A-HJ-NPR-Z0-9]{17}(?![A-Z0-9])(?<=\d[A-Z0-9]{0,16})(?<=[A-Z][A-Z0-9]{0,16})/gi;

const VIN_LENGTH = 17;

export const REMOVED = '(removed)';

/** Without vehicle identification numbers. */
export function redactText(text: string): string {
  return text.length < VIN_LENGTH ? text : text.replace(VIN, REMOVED);
}
