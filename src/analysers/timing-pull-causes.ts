import { gaugeBoost } from '../drive/boost/gauge-boost.ts';
import { chargeTemperatureAt } from '../drive/charge/source.ts';
import type { Drive } from '../drive/drive.ts';
import { valueAt } from '../drive/duty/next-step.ts';
import type { RetardEvent } from '../drive/retard/classify.ts';
import type { RepeatedRetard } from '../drive/retard/repeat.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { interpolateAt } from '../signal/interpolate.ts';
import type { Cause } from './finding.ts';
import { rpmWords } from './wording.ts';

/** Common practice, no source. */
const HOT_C = 55;
const COOL_C = 45;
const LEAN_BY = 0.03;
const LEAN_UNDER_BOOST = 0.9;

/** What else the log holds at an event. */
export interface Surroundings {
  readonly boostKpa: number | undefined;
  readonly chargeC: number | undefined;
  readonly lambda: number | undefined;
  readonly lambdaTarget: number | undefined;
}

export function surroundings(drive: Drive, event: RetardEvent): Surroundings {
  const boost = gaugeBoost(drive);
  const chargeC = chargeTemperatureAt(drive, Float64Array.of(event.onsetS))?.[0];
  const boostKpa = boost && interpolateAt(boost.time, boost.values, Float64Array.of(event.peakS), 1)[0];
  return {
    boostKpa: Number.isFinite(boostKpa) ? boostKpa : undefined,
    chargeC: Number.isFinite(chargeC) ? chargeC : undefined,
    lambda: valueAt(drive, 'lambda', event.onsetS),
    lambdaTarget: valueAt(drive, 'lambda_target', event.onsetS),
  };
}

export function surroundingsWords({ boostKpa, chargeC, lambda }: Surroundings): string {
  const parts = [
    boostKpa === undefined ? undefined : `${formatQuantity(boostKpa, 'kPa')} boost`,
    chargeC === undefined ? undefined : `charge at ${formatQuantity(chargeC, 'degC')}`,
    lambda === undefined ? undefined : `lambda ${formatQuantity(lambda, 'ratio')}`,
  ].filter((part) => part !== undefined);
  return parts.length > 0 ? ` with ${parts.join(', ')}` : '';
}

/** Cylinders with an event of at least the given height. */
function cylindersOf(events: readonly RetardEvent[]): number[] {
  return [...new Set(events.map((event) => event.track.cylinder).filter((c) => c !== undefined))].sort((a, b) => a - b);
}

interface Evidence {
  readonly drive: Drive;
  /** The event that decides. */
  readonly event: RetardEvent;
  /** All knock events that count. */
  readonly events: readonly RetardEvent[];
  readonly repeat: RepeatedRetard | undefined;
  readonly trackedCylinders: number;
}

/** The one cylinder that is hit while others are watched and quiet. */
export function loneCylinder({ events, trackedCylinders }: Evidence): number | undefined {
  const hit = cylindersOf(events);
  return hit.length === 1 && trackedCylinders > 1 ? hit[0] : undefined;
}

export function retardCauses(evidence: Evidence): Cause[] {
  const { drive, event, events, repeat } = evidence;
  const { chargeC, lambda, lambdaTarget, boostKpa } = surroundings(drive, event);
  const alone = loneCylinder(evidence);
  const hit = cylindersOf(events);
  const pulls = new Set(events.map((e) => e.pull?.id));
  const returned = repeat ? [`it came back near ${rpmWords(repeat.rpm[0])} in ${repeat.events.length} pulls`] : [];
  const list: Cause[] = [];
  if (alone !== undefined) {
    list.push({
      cause: `Something about cylinder ${alone} alone: plug, injector flow, cooling, compression, or noise picked up there`,
      for: [`only cylinder ${alone} of ${evidence.trackedCylinders} watched is hit`, ...returned],
      against: repeat || pulls.size > 1 ? [] : ['it came once'],
    });
  }
  list.push({
    cause: 'The fuel cannot carry this boost and timing',
    for: [
      ...(hit.length > 1 ? [`cylinders ${hit.join(', ')} are hit`] : []),
      ...(pulls.size > 1 ? [`${pulls.size} pulls are hit`] : []),
    ],
    against: alone === undefined ? [] : ['the other cylinders are quiet'],
  });
  list.push({
    cause: 'The timing table is too far advanced in that engine speed band',
    for: returned,
    against: repeat ? [] : pulls.size > 1 ? ['it did not come back in the same band'] : [],
  });
  if (chargeC !== undefined) {
    const words = `charge at ${formatQuantity(chargeC, 'degC')}`;
    list.push({
      cause: 'The charge is too hot',
      for: chargeC >= HOT_C ? [words] : [],
      against: chargeC < COOL_C ? [words] : [],
    });
  }
  if (lambda !== undefined) {
    const lean =
      (lambdaTarget !== undefined && lambda - lambdaTarget >= LEAN_BY) ||
      (boostKpa !== undefined && boostKpa > 40 && lambda >= LEAN_UNDER_BOOST);
    const words = `lambda ${formatQuantity(lambda, 'ratio')}${lambdaTarget === undefined ? '' : ` against a target of ${formatQuantity(lambdaTarget, 'ratio')}`}`;
    list.push({ cause: 'The mixture is lean at that moment', for: lean ? [words] : [], against: lean ? [] : [words] });
  }
  const blips = events.filter((e) => e.shape === 'blip').length;
  const slow = events.filter((e) => e.shape === 'fast-in-slow-out').length;
  list.push({
    cause: 'Noise that the knock sensor takes for knock (mechanical or electrical)',
    for: blips > 0 ? [`${blips} of ${events.length} events last a single sample`] : [],
    against: slow > 0 ? [`${slow} of ${events.length} events come fast and go slowly, as knock control does`] : [],
  });
  return list.filter((cause) => cause.for.length + cause.against.length > 0);
}

/** What to check or change, the cheapest first. */
export function retardNext(evidence: Evidence, isFail: boolean): string[] {
  const { drive, event, repeat } = evidence;
  const { chargeC } = surroundings(drive, event);
  const alone = loneCylinder(evidence);
  const band = repeat?.rpm ?? [event.peakRpm, event.peakRpm];
  const round = (rpm: number) => rpmWords(100 * Math.round(rpm / 100));
  return [
    ...(isFail ? ['No further full-load pull until the cause of the knock is known.'] : []),
    ...(chargeC !== undefined && chargeC >= HOT_C ? ['Let the charge cool down and repeat the pull.'] : []),
    ...(alone === undefined
      ? []
      : [
          `Read the plug of cylinder ${alone}: gap, heat range, signs of detonation.`,
          `Swap the injector of cylinder ${alone} with another and see whether the retard moves with it.`,
        ]),
    'Check which fuel is in the tank; repeat with fresh fuel of known octane.',
    `Take 2° out of the timing table from ${round(band[0] - 250)} to ${round(band[1] + 250)} at that load and log again.`,
    ...(alone === undefined ? ['Read the plugs of all cylinders: gap, heat range, signs of detonation.'] : []),
    'Check the knock sensor: tightening torque, wiring, loose parts that rattle near it.',
  ];
}
