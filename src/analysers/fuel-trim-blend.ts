import type { Build } from '../build-sheet/build.ts';
import type { Drive } from '../drive/drive.ts';
import { ethanolForStoichRatio } from '../engine/stoichiometry.ts';
import { largest, smallest } from '../signal/extremes.ts';
import { median } from '../signal/median.ts';
import { signedPercent } from './fuel-trim-words.ts';

/** Pump petrol may hold this much ethanol without anyone saying so, % by volume. */
const UNSTATED = [0, 10] as const;

interface AssumedBlend {
  readonly percents: readonly number[];
  readonly words: string;
}

function assumedBlend(drive: Drive, build: Build): AssumedBlend {
  if (build.ethanolPercent !== undefined) {
    return { percents: [build.ethanolPercent], words: `E${build.ethanolPercent.toFixed(0)} by the build sheet` };
  }
  const sensor = drive.recording.channels.get('ethanol_content');
  if (sensor && sensor.values.length > 0) {
    const percent = Math.min(100, Math.max(0, median(sensor.values)));
    return { percents: [percent], words: `E${percent.toFixed(0)} by the ethanol sensor` };
  }
  return { percents: UNSTATED, words: 'E0 to E10, since neither build sheet nor log states the blend' };
}

/** Whether a blend other than the assumed one explains an even correction, and which: one sentence for, or against. */
export function blendWords(drive: Drive, build: Build, trimPercent: number): { explains: boolean; words: string } {
  const assumed = assumedBlend(drive, build);
  const found = assumed.percents
    .map((percent) => ethanolForStoichRatio(percent, 1 + trimPercent / 100))
    .filter((percent) => percent !== undefined);
  if (found.length === 0) {
    return {
      explains: false,
      words: `No petrol and ethanol blend explains ${signedPercent(trimPercent)} against ${assumed.words}.`,
    };
  }
  const low = smallest(found).toFixed(0);
  const high = largest(found).toFixed(0);
  const blend = low === high ? `E${low}` : `E${low} to E${high}`;
  return {
    explains: true,
    words: `By stoichiometry alone ${blend} in the tank would explain ${signedPercent(trimPercent)} against ${assumed.words}.`,
  };
}
