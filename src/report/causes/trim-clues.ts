import { blendWords } from '../../analysers/fuel-trim-blend.ts';
import type { Build } from '../../build-sheet/build.ts';
import type { Drive } from '../../drive/drive.ts';
import { trimPattern } from '../../drive/trim/pattern.ts';
import { type BankTrims, totalTrim } from '../../drive/trim/total-trim.ts';
import { type Clue, type FindingBook, isTripped, no, open, yes } from './clue.ts';
import { formatSigned } from './signed.ts';

/** The bank whose worst judged cell is corrected most. */
function worstBank(banks: readonly BankTrims[]): { bank: BankTrims; percent: number } | undefined {
  let worst: { bank: BankTrims; percent: number } | undefined;
  for (const bank of banks) {
    for (const { judged, medianPercent } of bank.cells) {
      if (judged && (!worst || Math.abs(medianPercent) > Math.abs(worst.percent))) {
        worst = { bank, percent: medianPercent };
      }
    }
  }
  return worst;
}

/** What closed loop corrects: which way, and how it runs over load. */
export function trimClues(drive: Drive, build: Build, book: FindingBook) {
  const level = book.get('fuel-trim.level');
  const worst = level && level.verdict !== 'not-assessed' ? worstBank(totalTrim(drive).banks) : undefined;
  const unknown = open('Total trim was not judged; short and long term fuel trim, warm and steady, would tell.');
  if (!level || !worst) {
    return {
      'fuel is added': unknown,
      'fuel is taken away': unknown,
      'the correction is alike everywhere': unknown,
      'the correction fades with load': unknown,
      'the correction grows with load': unknown,
      'another blend would explain the correction': unknown,
    };
  }
  const { percent, bank } = worst;
  const pattern = trimPattern(bank.cells, totalTrim(drive).axis?.unit ?? '');
  const most = `The worst judged cell is corrected by ${formatSigned(percent, '%')}`;
  const signed = (sign: 1 | -1): Clue => {
    const way = sign > 0 ? 'fuel is added' : 'fuel is taken away';
    if (!isTripped(level)) return no(`Closed loop needs little correction: ${formatSigned(percent, '%')} at most.`);
    return sign * percent > 0 ? yes(`${most}: ${way}.`) : no(`${most}: fuel is ${sign > 0 ? 'taken away' : 'added'}.`);
  };
  const shape = (ending: string, is: string, isNot: string): Clue => {
    if (!isTripped(level)) return no(`Closed loop needs little correction: ${formatSigned(percent, '%')} at most.`);
    if (pattern.kind === 'none') return open(pattern.evidence);
    return pattern.kind.endsWith(ending)
      ? yes(`The correction ${is}. ${pattern.evidence}`)
      : no(`The correction ${isNot}. ${pattern.evidence}`);
  };
  const blend = blendWords(drive, build, pattern.levelPercent);
  return {
    'fuel is added': signed(1),
    'fuel is taken away': signed(-1),
    'the correction is alike everywhere': shape('alike', 'is alike everywhere', 'is not alike everywhere'),
    'the correction fades with load': shape(
      'fading with load',
      'is largest at idle and fades with load',
      'does not fade with load',
    ),
    'the correction grows with load': shape('growing with load', 'grows with load', 'does not grow with load'),
    'another blend would explain the correction': isTripped(level)
      ? (blend.explains ? yes : no)(blend.words)
      : no('There is hardly a correction to explain.'),
  };
}
