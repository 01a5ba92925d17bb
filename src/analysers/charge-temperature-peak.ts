import { judge, type Limit } from '../build-sheet/limit.ts';
import type { CleanTemperature } from '../drive/charge/clean.ts';
import type { Ambient, CoolerPull } from '../drive/charge/cooler.ts';
import type { ChargePull } from '../drive/charge/pull.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { heatCauses, kelvin, recoveryWords, slopeWords } from './charge-temperature-words.ts';
import type { Finding } from './finding.ts';
import { limitShown, limitWords, pullNames, pullPlace, rpmWords, withInterval } from './wording.ts';

export const PEAK = 'charge-temperature.peak';
/** Boost that must heat the charge, kPa, and the rise below which a sensor does not see it, K. Common practice, no source. */
const HEATING_KPA = 40;
const UNMOVED_K = 1.5;

const degrees = (value: number) => formatQuantity(value, 'degC');

interface Seen {
  readonly charge: CleanTemperature;
  readonly pulls: readonly ChargePull[];
  readonly coolers: readonly CoolerPull[];
  readonly ambient: Ambient;
  readonly isIntake: boolean;
  /** Intake air before the compressor is logged beside the charge: only then the cooler and the weather can be told. */
  readonly knowsInlet: boolean;
}

/** The hottest pull decides. */
export function peakFinding({ charge, pulls, coolers, ambient, isIntake, knowsInlet }: Seen, limit: Limit): Finding {
  const top = pulls.reduce((a, b) => (b.peakC > a.peakC ? b : a));
  const plain = judge(top.peakC, limit);
  const mark = limit.fail ?? limit.warn;
  const cannotTell = plain === 'pass' && mark !== undefined && top.high >= mark;
  const heated = coolers.filter(({ boostKpa }) => boostKpa >= HEATING_KPA);
  const isBlind = plain === 'pass' && isIntake && heated.length > 0 && pulls.every(({ riseK }) => riseK < UNMOVED_K);
  const verdict = cannotTell || isBlind ? 'not-assessed' : plain;
  const isTripped = verdict === 'warn' || verdict === 'fail';
  const hit = isTripped ? pulls.filter(({ peakC }) => judge(peakC, limit) !== 'pass') : [top];
  const { implausible, jumps, rateHz } = charge;
  return {
    id: PEAK,
    verdict,
    title: isBlind
      ? 'Intake temperature does not show the charge'
      : cannotTell
        ? 'This log cannot show the peak of charge temperature'
        : `Charge temperature reaches ${degrees(top.peakC)}`,
    measured: { value: top.peakC, unit: 'degC', low: top.low, high: top.high },
    limit: limitShown(limit),
    reasoning: [
      isIntake
        ? 'Charge air temperature is not logged: intake air temperature is taken, and whether it sits behind the cooler is not known. Before the compressor it would read far too low.'
        : 'Judged by charge air temperature.',
      `Pull ${top.pull.id}: ${withInterval(top.peakC, top.low, top.high, 'degC', limit)} at ${rpmWords(top.rpm)} from ${degrees(top.startC)} at its start, a rise of ${kelvin(top.riseK)}; ${limitWords(limit)}.`,
      slopeWords(top),
      ...pulls.map(recoveryWords),
      ...(isTripped && hit.length > 1 ? [`It shows in ${pullNames(hit.map(({ pull }) => pull.id))}.`] : []),
      ...(isBlind
        ? [
            `It moved by less than ${kelvin(UNMOVED_K)} in pulls of ${formatQuantity(Math.max(...heated.map((c) => c.boostKpa)), 'kPa')} boost, which heats the charge far more: it sits before the compressor, or answers too slowly.`,
          ]
        : []),
      ...(cannotTell ? [`Readings are too coarse or too far apart to tell this from ${degrees(mark)}.`] : []),
      ...(jumps.length > 0
        ? [
            `Left out: ${jumps.length} jump${jumps.length === 1 ? '' : 's'} there and back that no air makes (up to ${degrees(Math.max(...jumps.map((j) => j.topC)))}).`,
          ]
        : []),
      ...(implausible > 0
        ? [`Left out: ${implausible} reading${implausible === 1 ? '' : 's'} outside what the sensor can show.`]
        : []),
    ].filter((text) => text !== undefined),
    where: hit.map((c) => pullPlace(c.pull, c.atS, c.pull.endS, [c.rpm, c.pull.rpm[1]])),
    ...(verdict === 'pass'
      ? {
          detectable: `At ${formatQuantity(rateHz, 'Hz')} a charge of ${degrees((limit.warn ?? limit.fail ?? 0) + top.peakC - top.low)} held 0.5 s at the sensor would have shown; a slow sensor shows less of a short pull.`,
        }
      : {}),
    causes: isTripped ? heatCauses(pulls, top, knowsInlet ? coolers : [], knowsInlet ? ambient : undefined) : [],
    next: isTripped
      ? [
          'Let the car cool at road speed before another pull.',
          'Check the air path to the charge cooler: ducts, fins, fan, coolant of a water-cooled one.',
          'Compare pressure before and behind the cooler; look for hot ducts and leaks that make the compressor work harder.',
          'Fit a better cooler, or less boost, before the next step.',
        ]
      : isBlind
        ? ['Log charge_air_temperature from a quick sensor behind the cooler.']
        : cannotTell
          ? ['Log charge_air_temperature at 2 Hz or more.']
          : [],
  };
}
