import type { Build } from '../../build-sheet/build.ts';
import { chargeTemperatureId } from '../../drive/airflow.ts';
import type { Drive } from '../../drive/drive.ts';
import { valueAt } from '../../drive/duty/next-step.ts';
import type { RetardEvent } from '../../drive/retard/classify.ts';
import { repeatedRetard } from '../../drive/retard/repeat.ts';
import { retardOf } from '../../drive/retard/series.ts';
import { formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import { type Clue, type Clues, clueOf, type FindingBook, no, open, sentence, yes } from './clue.ts';

/** Common practice, no source. */
const HOT_C = 55;
const COOL_C = 45;
const LEAN_BY = 0.03;
/** An event counts with the worst one from this share of it on, so that a twitch elsewhere does not make one cylinder many. */
const COUNTS_FROM = 0.5;

type KnockClue =
  | 'knock retard in the pulls'
  | 'one cylinder alone is hit'
  | 'several cylinders are hit'
  | 'retard returns at the same engine speed'
  | 'retard comes fast and goes slowly'
  | 'the charge is hot when it knocks'
  | 'the mixture is lean when it knocks'
  | 'the charge is hot'
  | 'heat builds up from pull to pull';

interface Knock {
  readonly drive: Drive;
  /** The events that count, the largest first. */
  readonly events: readonly RetardEvent[];
  readonly watched: number;
}

const NONE = open('No knock retard was seen in a judged pull.');

function cylinderClues({ events, watched }: Knock): { alone: Clue; several: Clue } {
  const hit = [...new Set(events.flatMap(({ track }) => track.cylinder ?? []))].sort((a, b) => a - b);
  if (watched < 2) {
    const blind = open('Retard is not logged by cylinder; knock_retard_1 and on would tell one cylinder from all.');
    return { alone: blind, several: blind };
  }
  const only = `Only cylinder ${hit[0]} of ${watched} watched is hit.`;
  const many = `Cylinders ${hit.join(', ')} of ${watched} watched are hit.`;
  return hit.length === 1 ? { alone: yes(only), several: no(only) } : { alone: no(many), several: yes(many) };
}

function repeatClue({ drive, events }: Knock): Clue {
  const repeat = repeatedRetard(events);
  if (repeat) {
    return yes(
      `Retard of ${formatQuantity(repeat.deg, 'deg')} comes back near ${groupThousands(repeat.rpm[0])} rpm in ${repeat.events.length} pulls.`,
    );
  }
  const pulls = drive.pulls.filter((pull) => pull.usable && pull.fitness.timing.ok).length;
  return pulls < 2
    ? open('Whether it comes back needs a second pull.')
    : no(`It did not come back in the same engine speed band in ${pulls} pulls.`);
}

function shapeClue({ events }: Knock): Clue {
  const blips = events.filter(({ shape }) => shape === 'blip').length;
  if (blips === events.length) return no(`Every event lasts a single sample (${events.length}).`);
  const slow = events.filter(({ shape }) => shape === 'fast-in-slow-out').length;
  return slow > 0
    ? yes(`${slow} of ${events.length} events come fast and go slowly, as knock control does.`)
    : open('The log is too slow to show the shape of the retard.');
}

function heatClue({ drive, events }: Knock): Clue {
  const id = chargeTemperatureId(drive);
  const celsius = id && valueAt(drive, id, events[0].onsetS);
  if (celsius === undefined) return open('Charge temperature is not logged.');
  const words = `The charge is at ${formatQuantity(celsius, 'degC')} when retard begins.`;
  return celsius >= HOT_C ? yes(words) : celsius < COOL_C ? no(words) : open(words);
}

function leanClue({ drive, events }: Knock, build: Build): Clue {
  const [at] = events;
  const lambda = valueAt(drive, 'lambda', at.onsetS);
  const asked = valueAt(drive, 'lambda_target', at.onsetS) ?? build.fullLoadLambda;
  if (lambda === undefined || asked === undefined)
    return open('Mixture against its target is not known at that moment.');
  const words = `Lambda is ${formatQuantity(lambda, 'ratio')} against ${formatQuantity(asked, 'ratio')} asked when retard begins.`;
  return lambda - asked >= LEAN_BY ? yes(words) : no(words);
}

/** Heat that builds up is told by a note with steps to take, not by a verdict. */
function chargeClues(book: FindingBook) {
  const soak = book.get('charge-temperature.soak');
  return {
    'the charge is hot': clueOf(book, ['charge-temperature.peak'], 'Charge temperature was not judged.'),
    'heat builds up from pull to pull': soak
      ? (soak.next.length > 0 ? yes : no)(sentence(soak.title))
      : open('Whether heat builds up needs two pulls.'),
  };
}

export function knockClues(drive: Drive, build: Build, book: FindingBook): Pick<Clues, KnockClue> {
  const knock = clueOf(book, ['timing-pull.peak', 'timing-pull.repeat'], 'Pulled timing was not judged.');
  const heat = chargeClues(book);
  const retard = knock.answer === 'yes' ? retardOf(drive, build) : undefined;
  const all = (retard?.events ?? []).filter(({ kind }) => kind === 'knock').sort((a, b) => b.peakDeg - a.peakDeg);
  const events = all.filter(({ peakDeg }) => peakDeg >= COUNTS_FROM * all[0].peakDeg);
  if (!retard || events.length === 0) {
    return {
      'knock retard in the pulls': knock,
      'one cylinder alone is hit': NONE,
      'several cylinders are hit': NONE,
      'retard returns at the same engine speed': NONE,
      'retard comes fast and goes slowly': NONE,
      'the charge is hot when it knocks': NONE,
      'the mixture is lean when it knocks': NONE,
      ...heat,
    };
  }
  const watched = retard.tracks.filter(({ basis }) => basis === 'cylinder').length;
  const seen: Knock = { drive, events, watched };
  const { alone, several } = cylinderClues(seen);
  return {
    'knock retard in the pulls': yes(sentence(knock.words)),
    'one cylinder alone is hit': alone,
    'several cylinders are hit': several,
    'retard returns at the same engine speed': repeatClue(seen),
    'retard comes fast and goes slowly': shapeClue(seen),
    'the charge is hot when it knocks': heatClue(seen),
    'the mixture is lean when it knocks': leanClue(seen, build),
    ...heat,
  };
}
