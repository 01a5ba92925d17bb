import type { Build } from '../build-sheet/build.ts';
import { formatQuantity } from '../kernel/format-number.ts';

/** Where settled boost belongs beside the pressure at which the wastegate starts to open, kPa gauge. */
export interface SpringBand {
  readonly leastKpa: number;
  readonly mostKpa: number;
  /** How the upper end is reckoned, for a sentence. */
  readonly mostWords: string;
  /** The cracking pressures, for a sentence. */
  readonly crackingWords: string;
  /** Of the cracking pressures. */
  readonly source: string;
}

/** Share of the lower cracking pressure below which no gate has been asked to open. Common practice, no source. */
const LEAST = 0.6;
/** From the upper cracking pressure to the end of what explains boost: a hand-set valve may add to the spring, the spring alone little. Common practice, no source. */
const HAND_SET = { times: 2, plusKpa: 30, words: 'twice the upper cracking pressure and 30 kPa' } as const;
const SPRING_ALONE = { times: 1.5, plusKpa: 10, words: '1.5 times the upper cracking pressure and 10 kPa' } as const;

/** Boost that spring and controller explain. The tighter end needs a cracking pressure that the build sheet gives. */
export function springBand({ control, wastegateCrackingKpa, wastegateCrackingAssumed }: Build['boost']): SpringBand {
  const [lower, upper] = wastegateCrackingKpa;
  const most = control === 'none' && !wastegateCrackingAssumed ? SPRING_ALONE : HAND_SET;
  const assumed = wastegateCrackingAssumed ? ' (assumed: the build sheet does not say)' : '';
  return {
    leastKpa: LEAST * lower,
    mostKpa: most.times * upper + most.plusKpa,
    mostWords: `${most.words}, common practice, no source`,
    crackingWords: `${formatQuantity(lower, 'kPa')} to ${formatQuantity(upper, 'kPa')}${assumed}`,
    source: wastegateCrackingAssumed ? 'common practice, no source' : 'build sheet, boost.wastegateCracking',
  };
}
