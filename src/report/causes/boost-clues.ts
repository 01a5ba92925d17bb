import type { Build } from '../../build-sheet/build.ts';
import { liveBoost } from '../../drive/boost/live-boost.ts';
import type { BoostPull } from '../../drive/boost/settled-boost.ts';
import { errorToLoggedTarget } from '../../drive/boost/target-error.ts';
import type { Drive } from '../../drive/drive.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { median } from '../../signal/median.ts';
import { type Clue, type Clues, clueOf, type FindingBook, isTripped, no, open, sentence, yes } from './clue.ts';

/** Common practice, no source. */
const SLOW_SETTLING = 1.5;
const SWING_KPA = 6;
/** A gate that is open but too small lets boost climb by less than this share of its level. */
const RUNAWAY_SHARE = 0.6;

type BoostClue =
  | 'boost overshoots'
  | 'boost rings after the peak'
  | 'boost settles slowly'
  | 'the controller is electronic'
  | 'boost climbs after it settled'
  | 'boost never comes to a level'
  | 'boost swings'
  | 'boost is far above the spring'
  | 'boost is low'
  | 'boost goes over its ceiling'
  | 'it shows in every pull'
  | 'boost spikes'
  | 'spikes last a single sample';

const NO_BOOST = open('Boost was not judged.');

function ringClue(pulls: readonly BoostPull[]): Clue {
  const rings = pulls.flatMap(({ pull, ringing }) => (ringing ? [{ id: pull.id, ...ringing }] : []));
  if (rings.length === 0) return no('Boost does not ring after the first peak.');
  const [{ id, periodS, dampingRatio }] = rings;
  return yes(
    `In pull ${id} boost rings with a period of ${formatQuantity(periodS, 's')} and a damping ratio of ${dampingRatio.toFixed(2)}.`,
  );
}

function settlingClue(pulls: readonly BoostPull[]): Clue {
  const times = pulls.flatMap(({ rise }) => rise?.settlingTimeS ?? []);
  if (times.length === 0) return open('How long boost takes to settle was not seen.');
  const longest = Math.max(...times);
  const words = `From half of its level boost takes up to ${formatQuantity(longest, 's')} to stay within 5 %.`;
  return longest >= SLOW_SETTLING ? yes(words) : no(words);
}

function swingClue(pulls: readonly BoostPull[], book: FindingBook): Clue {
  const swings = pulls.flatMap(({ pull, swing }) =>
    swing?.lasting && swing.lastSwingKpa >= SWING_KPA ? [{ id: pull.id, ...swing }] : [],
  );
  const hunting = book.get('boost-creep.hunting');
  if (swings.length === 0 && !isTripped(hunting)) return no('Boost does not swing about its level.');
  if (swings.length === 0) return yes(sentence(hunting?.title ?? ''));
  const worst = swings.reduce((a, b) => (b.lastSwingKpa > a.lastSwingKpa ? b : a));
  return yes(
    `In pull ${worst.id} boost swings by ${formatQuantity(worst.lastSwingKpa, 'kPa')} with a period of ${formatQuantity(worst.periodS, 's')}, to the end.`,
  );
}

/** Pulls whose boost climbed to the end without a level, or by so much that it has none worth the name. */
function climbingClue(pulls: readonly BoostPull[], book: FindingBook): Clue {
  const climbing = pulls.filter(({ unsettled }) => unsettled === 'climbing');
  const judged = book.get('boost-creep.rise');
  if (climbing.length > 0 && isTripped(judged)) {
    const most = Math.max(...climbing.map(({ lateClimbKpa }) => lateClimbKpa));
    return yes(
      `In ${climbing.length} of ${pulls.length} pulls boost climbs to the end, by ${formatQuantity(most, 'kPa')} over the upper half of the speed range.`,
    );
  }
  const share = ({ settled }: BoostPull) => (settled ? settled.riseKpa / Math.max(settled.levelKpa, 1) : 0);
  const worst = pulls.filter((p) => !p.unsettled).sort((a, b) => share(b) - share(a))[0];
  if (worst?.settled && isTripped(judged) && share(worst) >= RUNAWAY_SHARE) {
    return yes(
      `In pull ${worst.pull.id} boost climbs from ${formatQuantity(worst.settled.levelKpa, 'kPa')} to ${formatQuantity(worst.settled.endKpa, 'kPa')}: hardly a level.`,
    );
  }
  return pulls.some(({ settled, unsettled }) => settled && !unsettled)
    ? no('Boost does come to a level.')
    : open('No pull shows whether boost comes to a level.');
}

function creepClue(pulls: readonly BoostPull[], book: FindingBook): Clue {
  const found = book.get('boost-creep.rise');
  const climbs = pulls.filter(({ settled, unsettled }) => !unsettled && settled && settled.riseLow > 0);
  if (!found || found.verdict === 'not-assessed') return open('Whether settled boost climbs could not be judged.');
  if (!isTripped(found) || climbs.length === 0) return no('Settled boost does not climb with engine speed.');
  const rise = (p: BoostPull) => p.settled?.riseKpa ?? 0;
  const worst = climbs.reduce((a, b) => (rise(b) > rise(a) ? b : a));
  return yes(
    `In pull ${worst.pull.id} boost settles and then climbs by ${formatQuantity(rise(worst), 'kPa')} along a line over engine speed.`,
  );
}

function everyPullClue(pulls: readonly BoostPull[], book: FindingBook): Clue {
  const ids = ['boost-overshoot.excess', 'boost-creep.rise', 'boost-spike.height'];
  const tripped = ids.map((id) => book.get(id)).find(isTripped);
  if (!tripped || pulls.length < 2) return open('Whether it comes back needs two pulls.');
  const hit = new Set(tripped.where.map(({ pull }) => pull));
  const words = `It shows in ${hit.size} of ${pulls.length} pulls.`;
  return hit.size === pulls.length ? yes(words) : no(words);
}

/** How far settled boost is above what the finding held it against, in that finding's terms; below is negative. */
function aboveBy(id: string, drive: Drive, build: Build, pulls: readonly BoostPull[]): number {
  const { targetKpa, wastegateCrackingKpa } = build.boost;
  const settled = pulls.filter((p) => p.settled && !p.unsettled);
  if (settled.length === 0) return Number.NEGATIVE_INFINITY;
  const levelKpa = median(settled.map((p) => p.settled?.levelKpa ?? 0));
  if (id.endsWith('.spring')) return levelKpa - wastegateCrackingKpa[1];
  if (id === 'boost-target.error' && targetKpa !== undefined) return levelKpa - targetKpa;
  const errors = settled.map((p) => errorToLoggedTarget(drive, p)?.percent).filter((e) => e !== undefined);
  return errors.length > 0 ? median(errors) : 0;
}

const HELD_AGAINST = ['boost-target.error', 'boost-target.tracking', 'boost-creep.spring', 'boost-target.spring'];

/** Above or below what spring and target give, by the analysers that hold boost against them. */
function levelClue(drive: Drive, build: Build, book: FindingBook, pulls: readonly BoostPull[], above: boolean): Clue {
  const found = HELD_AGAINST.map((id) => book.get(id)).filter((f) => f !== undefined && f.verdict !== 'not-assessed');
  const side = found.find((f) => isTripped(f) && aboveBy(f.id, drive, build, pulls) > 0 === above);
  if (side) return yes(sentence(side.title));
  return found.length > 0
    ? no(above ? 'Settled boost is not far above what it should be.' : 'Settled boost is not low.')
    : open('Settled boost could not be held against spring or target.');
}

/** A spike that shows in one sample only, by the causes of its own finding. */
function singleSampleClue(pulls: readonly BoostPull[], book: FindingBook): Clue {
  const spikes = pulls.flatMap(({ excursions }) => excursions?.spikes ?? []);
  if (!isTripped(book.get('boost-spike.height')) || spikes.length === 0) return open('No spike was seen.');
  const largest = Math.max(...spikes.map(({ heightKpa }) => heightKpa));
  const counted = spikes.filter(({ heightKpa }) => heightKpa >= 0.5 * largest);
  const single = counted.filter(({ samples }) => samples === 1).length;
  const words = `${single} of ${counted.length} spikes show in a single sample.`;
  return single > counted.length / 2 ? yes(words) : no(words);
}

export function boostClues(drive: Drive, build: Build, book: FindingBook): Pick<Clues, BoostClue> {
  const asked = [...book.keys()].some((id) => id.startsWith('boost-'));
  const pulls = asked ? liveBoost(drive) : [];
  const seen = (clue: () => Clue) => (pulls.length > 0 ? clue() : NO_BOOST);
  const { control } = build.boost;
  return {
    'boost overshoots': clueOf(
      book,
      ['boost-overshoot.excess', 'boost-overshoot.ceiling'],
      'Overshoot was not judged.',
    ),
    'boost rings after the peak': seen(() => ringClue(pulls)),
    'boost settles slowly': seen(() => settlingClue(pulls)),
    'the controller is electronic':
      control === undefined
        ? open('How boost is controlled is not said; boost.control would.')
        : (control === 'electronic' ? yes : no)(`Boost control by the build sheet: ${control}.`),
    'boost climbs after it settled': seen(() => creepClue(pulls, book)),
    'boost never comes to a level': seen(() => climbingClue(pulls, book)),
    'boost swings': seen(() => swingClue(pulls, book)),
    'boost is far above the spring': levelClue(drive, build, book, pulls, true),
    'boost is low': levelClue(drive, build, book, pulls, false),
    'boost goes over its ceiling': clueOf(
      book,
      ['boost-creep.ceiling', 'boost-overshoot.ceiling', 'boost-spike.ceiling'],
      'No ceiling was passed.',
    ),
    'it shows in every pull': seen(() => everyPullClue(pulls, book)),
    'boost spikes': clueOf(
      book,
      ['boost-spike.height', 'boost-spike.surge', 'boost-spike.ceiling'],
      'Spikes were not judged.',
    ),
    'spikes last a single sample': seen(() => singleSampleClue(pulls, book)),
  };
}
