import { grows } from '../../analysers/fuel-pressure-words.ts';
import type { Build } from '../../build-sheet/build.ts';
import type { Drive } from '../../drive/drive.ts';
import { leanEnd } from '../../drive/health/saturated.ts';
import { pullSeries } from '../../drive/pull-series.ts';
import { railDrop } from '../../drive/rail/drop.ts';
import { isRailLive, judgedRail } from '../../drive/rail/judged.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { type Clue, type Clues, clueOf, type FindingBook, isTripped, no, open, sentence, yes } from './clue.ts';
import { formatSigned } from './signed.ts';
import { trimClues } from './trim-clues.ts';

/** Common practice, no source. */
const LOW_VOLTS = 13;
const ETHANOL_POINTS = 5;

type FuelClue =
  | 'fuel is added'
  | 'fuel is taken away'
  | 'the correction is alike everywhere'
  | 'the correction fades with load'
  | 'the correction grows with load'
  | 'the trims move in one direction'
  | 'the banks differ'
  | 'full load is lean'
  | 'lambda lies at its lean end'
  | 'the mixture read does not fit the fuel delivered'
  | 'fuel pressure falls at full load'
  | 'the fall grows with engine speed'
  | 'fuel pressure at rest is off'
  | 'the regulator lost its reference'
  | 'injector duty is at its end'
  | 'battery voltage is low in the pull'
  | 'the ethanol sensor differs from the build sheet'
  | 'another blend would explain the correction'
  | 'cylinders misfire'
  | 'the calibration works by speed and density';

/** Lowest battery voltage in the pulls. */
function voltsClue(drive: Drive): Clue {
  const lows = drive.pulls.flatMap((pull) => {
    const values = pullSeries(drive, pull, 'battery_voltage')?.values;
    return values && values.length >= 3 ? [values.toSorted()[Math.floor(values.length / 10)]] : [];
  });
  if (lows.length === 0) return open('Battery voltage is not logged in the pulls.');
  const low = Math.min(...lows);
  const words = `Battery voltage in the pulls is ${formatQuantity(low, 'V')} at its lowest.`;
  return low < LOW_VOLTS ? yes(words) : no(words);
}

function ethanolClue(drive: Drive, build: Build): Clue {
  const sensor = drive.recording.channels.get('ethanol_content');
  if (!sensor || build.ethanolPercent === undefined) {
    return open('Whether the blend is as assumed is not known: the ethanol sensor or fuel.ethanol is missing.');
  }
  const read = sensor.values[sensor.values.length - 1];
  const words = `The ethanol sensor reads ${formatQuantity(read, '%')}, the build sheet says ${formatQuantity(build.ethanolPercent, '%')}.`;
  return Math.abs(read - build.ethanolPercent) >= ETHANOL_POINTS ? yes(words) : no(words);
}

/** Misfires by codes P0300 to P0312 (SAE J2012) or by the counter inside the pulls. */
function misfireClue(drive: Drive, codes: readonly string[]): Clue {
  const stored = codes.filter((code) => /^P03(0\d|1[0-2])$/i.test(code));
  if (stored.length > 0) return yes(`The fault memory holds ${stored.join(', ')}: misfire.`);
  const counter = drive.recording.channels.has('misfire_count');
  if (!counter) return open('Misfires are not logged.');
  const rises = drive.pulls.map((pull) => {
    const values = pullSeries(drive, pull, 'misfire_count')?.values ?? new Float64Array(0);
    return values.length > 1 ? Math.max(0, values[values.length - 1] - values[0]) : 0;
  });
  const most = Math.max(0, ...rises);
  return most >= 1 ? yes(`${most} misfires were counted in one pull.`) : no('No misfire was counted in the pulls.');
}

/** Whether the largest fall of fuel pressure grows with engine speed, as a pump at its end has it. */
function fallGrows(drive: Drive, build: Build, book: FindingBook): Clue {
  const judged = isTripped(book.get('fuel-pressure.drop')) ? judgedRail(drive, build) : undefined;
  if (!judged) return open('Fuel pressure was not seen to fall.');
  const { rail, by } = judged;
  if ('missing' in by) return open('How the fall runs over engine speed is not known.');
  const drops = drive.pulls
    .filter((pull) => isRailLive(drive, judged, pull))
    .map((pull) => railDrop(rail, pull, by, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY))
    .filter((drop) => drop !== undefined);
  const worst = drops.toSorted((a, b) => b.value - a.value)[0];
  if (!worst?.slope) return open('How the fall runs over engine speed is not known.');
  const words = `${formatSigned(worst.slope.per1000, '%')} of fall per 1,000 rpm`;
  return grows(worst)
    ? yes(`The fall grows with engine speed: ${words}.`)
    : no(`The fall does not grow with engine speed: ${words}.`);
}

/** Readings at which no engine pulls: they speak of the sensor, and not of the fuel. */
function leanEndClue(drive: Drive, book: FindingBook): Clue {
  const isLean = ['mixture.lean-error', 'mixture.lean-limit', 'sensor-health.saturated'].some((id) =>
    isTripped(book.get(id)),
  );
  const lambda = drive.recording.channels.get('lambda');
  if (!isLean || !lambda) return no('Lambda was not seen at its lean end in the pulls.');
  const seconds = leanEnd(drive, lambda)?.measured?.value;
  return seconds === undefined
    ? no('Lambda does not lie at its lean end in the pulls.')
    : yes(`Lambda lies at its lean end for ${formatQuantity(seconds, 's')} of a pull, where no engine pulls.`);
}

function speedDensityClue(drive: Drive, build: Build): Clue {
  if (build.airflow === 'speed-density' || build.expect.disconnected.includes('mass_air_flow')) {
    return yes('The calibration works by speed and density, where manifold pressure counts part of the air of a leak.');
  }
  if (build.airflow === 'mass-air-flow') return no('Airflow is measured by a meter, which a leak goes round.');
  const meter = drive.recording.channels.get('mass_air_flow');
  return open(`How the calibration finds its air is not said${meter ? '' : ', and no airflow meter is logged'}.`);
}

export function fuelClues(
  drive: Drive,
  build: Build,
  book: FindingBook,
  codes: readonly string[],
): Pick<Clues, FuelClue> {
  const reference = book.get('fuel-pressure.reference');
  return {
    ...trimClues(drive, build, book),
    'the trims move in one direction': clueOf(book, ['fuel-trim.drift'], 'Whether the trims move could not be judged.'),
    'the banks differ': clueOf(book, ['fuel-trim.bank-split'], 'Only one bank is judged.'),
    'full load is lean': clueOf(
      book,
      ['mixture.lean-error', 'mixture.lean-limit'],
      'Full-load mixture was not judged; lambda at 10 Hz would tell.',
    ),
    'lambda lies at its lean end': leanEndClue(drive, book),
    'the mixture read does not fit the fuel delivered': clueOf(
      book,
      ['mixture.agreement'],
      'The mixture read was not held against the fuel and air delivered.',
    ),
    'fuel pressure falls at full load': clueOf(
      book,
      ['fuel-pressure.drop'],
      'Fuel pressure under load was not judged; fuel_rail_pressure with manifold_pressure would tell delivery from airflow.',
    ),
    'the fall grows with engine speed': fallGrows(drive, build, book),
    'fuel pressure at rest is off': clueOf(book, ['fuel-pressure.base'], 'Fuel pressure at rest was not judged.'),
    'the regulator lost its reference':
      isTripped(reference) && build.injectors.regulator !== 'fixed'
        ? yes(sentence(reference.title))
        : reference?.verdict === 'pass'
          ? no(sentence(reference.title))
          : open('Whether rail pressure follows the manifold could not be told.'),
    'injector duty is at its end': clueOf(book, ['injector-duty.peak'], 'Injector duty was not judged.'),
    'battery voltage is low in the pull': voltsClue(drive),
    'the ethanol sensor differs from the build sheet': ethanolClue(drive, build),
    'cylinders misfire': misfireClue(drive, codes),
    'the calibration works by speed and density': speedDensityClue(drive, build),
  };
}
