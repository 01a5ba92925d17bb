import { UserError } from '../kernel/user-error.ts';

/** What stands for "the fault memory was read and held no code", on the command line and in the build sheet. */
export const NO_CODES_STORED = 'none';

const PATTERN = /^[PCBU][0-3][0-9A-F]{3}$/;

/**
 * A diagnostic trouble code in capitals. Lower case and surrounding blanks are accepted. `where` names the flag or key for the message.
 * Layout after SAE J2012 / ISO 15031-6: a letter, a digit 0 to 3, three hexadecimal digits.
 */
export function parseTroubleCode(text: string, where?: string): string {
  const code = text.trim().toUpperCase();
  if (PATTERN.test(code)) return code;
  throw new UserError(
    `"${text.trim().slice(0, 40)}" is no trouble code.`,
    where,
    'A code is a letter P, C, B or U, a digit 0 to 3 and three hexadecimal digits, such as P0171; write "none" where the fault memory was read and was empty.',
  );
}

/**
 * Codes read by hand, separated by commas, semicolons or blanks, in capitals and without repeats; `["none"]` where the text says that the
 * fault memory was read and was empty.
 */
export function parseTroubleCodes(text: string, where?: string): string[] {
  const words = text.split(/[\s,;]+/).filter((word) => word !== '');
  if (words.length === 0) {
    throw new UserError(
      'No trouble code is given.',
      where,
      'Write the codes separated by commas, or "none" where the fault memory was read and was empty.',
    );
  }
  const isNone = (word: string) => word.toLowerCase() === NO_CODES_STORED;
  if (words.every(isNone)) return [NO_CODES_STORED];
  if (words.some(isNone)) {
    throw new UserError(
      `"${NO_CODES_STORED}" stands beside trouble codes.`,
      where,
      'Write either the codes that were read, or "none".',
    );
  }
  return [...new Set(words.map((word) => parseTroubleCode(word, where)))];
}

const SYSTEMS: Record<string, string> = { P: 'powertrain', C: 'chassis', B: 'body', U: 'network' };

/** Third character of a powertrain code, by SAE J2012. */
const POWERTRAIN_GROUPS: Record<string, string> = {
  1: 'fuel and air metering',
  2: 'fuel and air metering, injector circuit',
  3: 'ignition or misfire',
  4: 'auxiliary emission controls',
  5: 'vehicle speed and idle control',
  6: 'computer and output circuits',
  7: 'transmission',
};

/** Meanings of codes that bear on a base run. P0171 to P0175 as published for SAE J2012; the others from memory. */
const MEANINGS: Record<string, string> = {
  P0087: 'fuel rail pressure too low',
  P0088: 'fuel rail pressure too high',
  P0171: 'system too lean, bank 1',
  P0172: 'system too rich, bank 1',
  P0174: 'system too lean, bank 2',
  P0175: 'system too rich, bank 2',
  P0234: 'overboost',
  P0299: 'underboost',
  P0300: 'random misfire',
  P0325: 'knock sensor 1 circuit',
};

/** Who defines the code's number: the standard, the maker, or (C, B and U with 3) nobody yet. P3 is split at P3400. SAE J2012; P3, C, B, U from memory. */
function definedBy(code: string): 'standard' | 'maker' | 'reserved' {
  const second = code[1];
  if (code[0] === 'P') {
    if (second === '3') return code < 'P3400' ? 'maker' : 'standard';
    return second === '1' ? 'maker' : 'standard';
  }
  return second === '0' ? 'standard' : second === '3' ? 'reserved' : 'maker';
}

function troubleCodeMeaning(code: string): string | undefined {
  const cylinder = /^P03(0[1-9]|1[0-2])$/.exec(code);
  return cylinder ? `misfire, cylinder ${Number(cylinder[1])}` : MEANINGS[code];
}

/** The code's group in plain words: `"P0171: powertrain, standard code, fuel and air metering (system too lean, bank 1)"`. */
export function describeTroubleCode(code: string): string {
  const owner = { standard: 'standard code', maker: "maker's own code", reserved: 'reserved range' }[definedBy(code)];
  const group = code[0] === 'P' && definedBy(code) === 'standard' ? POWERTRAIN_GROUPS[code[2]] : undefined;
  const meaning = troubleCodeMeaning(code);
  return `${code}: ${[SYSTEMS[code[0]], owner, group].filter(Boolean).join(', ')}${meaning ? ` (${meaning})` : ''}`;
}

/** Standard codes of the mass air flow meter's circuit: what a meter unplugged on purpose sets. SAE J2012, from memory. */
export function isMassAirFlowCircuitCode(code: string): boolean {
  return /^P010[0-4]$/.test(code);
}
