import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import type { RailDropout } from '../drive/health/rail-dropouts.ts';
import type { Expectation, RailDrop } from '../drive/rail/drop.ts';
import type { RailReference, Regulator } from '../drive/rail/regulator.ts';
import type { Rail } from '../drive/rail/series.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { DROP_NEXT, dropCauses, dropPlaces, flowLossPercent, grows } from './fuel-pressure-words.ts';
import { limitShown, limitWords, pullNames, rpmWords, withInterval } from './wording.ts';

export const DROP = 'fuel-pressure.drop';
/** A pass needs this many updates a second: slower, the top of a pull can pass between two. */
const SLOWEST_HZ = 1;

const kpa = (value: number) => formatQuantity(value, 'kPa');
const percent = (value: number) => formatQuantity(value, '%');
const seconds = (value: number) => formatQuantity(value, 's');

interface Known {
  readonly drive: Drive;
  readonly rail: Rail;
  readonly regulator: Regulator;
  readonly reference: RailReference | undefined;
  readonly by: Expectation;
  /** Moments left out because no rail can do that. */
  readonly dropouts: readonly RailDropout[];
  /** Pulls that a frozen channel takes out, a sentence each. */
  readonly frozen: readonly string[];
}

/** From this many readings on, a dropout is no lone slip but a time in which the pressure is not known. */
const UNKNOWN_READINGS = 2;

function dropoutWords(inPulls: readonly RailDropout[]): string[] {
  if (inPulls.length === 0) return [];
  const longest = inPulls.reduce((a, b) => (b.endS - b.startS > a.endS - a.startS ? b : a));
  return [
    `Left out: ${inPulls.length === 1 ? 'once' : `${inPulls.length} times`} the rail went from ${kpa(longest.fromKpa)} to ${kpa(longest.toKpa)} and back within ${seconds(longest.endS - longest.startS)} (${seconds(longest.startS)}). No rail does that while the engine pulls on: the sensor, its plug or its wiring. What the pressure was meanwhile is not known.`,
  ];
}

/** The worst fall of the pulls. */
export function dropFinding(known: Known, drops: readonly RailDrop[], limit: Limit): Finding {
  const { drive, rail, regulator, reference, by, frozen } = known;
  const top = drops.reduce((a, b) => (b.value > a.value ? b : a));
  const plain = judge(top.value, limit);
  const isOne = top.isLone && plain === 'fail';
  const isSet = by.by === 'set differential' || by.by === 'set rail pressure';
  const fail = limit.fail ?? Number.POSITIVE_INFINITY;
  // A pressure on paper may be off by itself: it fails a rail only beyond that, or where the pull's own start shows the fall.
  const isOnPaper = isSet && plain === 'fail' && drops.every((d) => d.low < fail && d.ownLow < fail);
  const mark = limit.fail ?? limit.warn;
  const isNoisy = plain === 'pass' && mark !== undefined && top.high >= mark;
  const isSlow = plain === 'pass' && rail.rateHz < SLOWEST_HZ * 0.99;
  const dropouts = known.dropouts.filter(
    ({ startS, endS, readings }) =>
      readings >= UNKNOWN_READINGS && drops.some(({ pull }) => startS >= pull.startS && endS <= pull.endS),
  );
  const isGappy = plain === 'pass' && dropouts.length > 0;
  const verdict = isNoisy || isSlow || isGappy ? 'not-assessed' : isOne || isOnPaper ? 'warn' : plain;
  const isTripped = verdict === 'warn' || verdict === 'fail';
  const hit = isTripped ? drops.filter((d) => judge(d.value, limit) !== 'pass') : [top];
  const across = top.differentialKpa;
  const rest = reference?.differentialKpa ?? Number.NaN;
  const moving = drops.reduce((sum, d) => sum + d.movingS, 0);
  const slips = rail.leftOut.filter((t) => drops.some(({ pull }) => t >= pull.startS && t <= pull.endS)).length;
  return {
    id: DROP,
    verdict,
    title:
      verdict === 'pass'
        ? `Fuel pressure holds: at most ${percent(Math.max(0, top.value))} below what it should be`
        : verdict === 'not-assessed'
          ? 'This log cannot show whether fuel pressure holds'
          : `Fuel pressure falls ${percent(top.value)} at ${rpmWords(top.rpm)}`,
    measured: { value: top.value, unit: '%', low: top.low, high: top.high },
    limit: limitShown(limit),
    reasoning: [
      by.note,
      regulator.note,
      `Pull ${top.pull.id}: ${kpa(top.actualKpa)} at ${rpmWords(top.rpm)} (${seconds(top.atS)}) where ${kpa(top.expectedKpa)} should be: ${withInterval(top.value, top.low, top.high, '%', limit)} too low, ${limitWords(limit)}.`,
      ...(top.value > 0
        ? [
            `Injector flow goes with the square root: ${percent(flowLossPercent(top.expectedKpa, top.actualKpa))} less fuel for the same pulse.`,
          ]
        : []),
      ...(across > 0 && rest > 0 && by.by !== 'idle rail pressure' && by.by !== 'set rail pressure'
        ? [
            `Across the injector ${kpa(across)} are left there, ${kpa(rest)} ${isSet ? 'by the build sheet' : `at ${reference?.from}`}: flow ${percent(Math.abs(flowLossPercent(rest, across)))} ${across < rest ? 'less' : 'more'}${regulator.taken === 'fixed' ? ', boost included; the calibration has to know' : ''}.`,
          ]
        : []),
      ...drops.flatMap((d) =>
        d.beyond && isTripped
          ? [
              `Pull ${d.pull.id}: beyond ${percent(limit.warn ?? limit.fail ?? 0)} from ${rpmWords(d.beyond.rpm[0])} to ${rpmWords(d.beyond.rpm[1])}${d.recoveredAfterS === undefined ? '; it did not come back in the log before the next pull or within 8 s' : `; back ${seconds(d.recoveredAfterS)} after the pull`}.`,
            ]
          : [],
      ),
      ...(isTripped && top.slope
        ? [
            grows(top)
              ? `The fall grows with engine speed, by ${percent(top.slope.per1000)} per 1,000 rpm: delivery runs out with flow.`
              : 'The fall does not grow with engine speed: more like a regulator or a wrong reference than a pump at its end.',
          ]
        : []),
      ...(isTripped && hit.length > 1 ? [`It shows in ${pullNames(hit.map(({ pull }) => pull.id))}: it repeats.`] : []),
      ...(isOnPaper
        ? [
            'The pressure on the build sheet may be off by some per cent, and the fall since the start of the pull does not reach the limit by itself, hence a warning.',
          ]
        : []),
      ...(isOne ? ['One reading alone says so, and its neighbours do not, hence a warning.'] : []),
      ...(isNoisy ? [`The reading is too unsteady or too coarse to tell this from ${percent(mark)}.`] : []),
      ...(isSlow ? [`At ${formatQuantity(rail.rateHz, 'Hz')} the top of a pull can pass between two readings.`] : []),
      ...(moving > 0
        ? [
            `Left out: ${seconds(moving)} while manifold pressure moved faster than the two sensors can be held together.`,
          ]
        : []),
      ...dropoutWords(dropouts),
      ...frozen,
      ...(slips > 0 ? [`Left out: ${slips} lone or impossible reading${slips === 1 ? '' : 's'}.`] : []),
    ],
    where: dropPlaces(hit),
    ...(verdict === 'pass'
      ? {
          detectable: `At ${formatQuantity(rail.rateHz, 'Hz')} a fall of ${percent((limit.warn ?? limit.fail ?? 0) + top.high - top.value)} lasting ${seconds(rail.rateHz >= 5 ? 0.2 + 1 / rail.rateHz : 2 / rail.rateHz)} would have shown.`,
        }
      : {}),
    causes: isTripped ? dropCauses(drive, top, regulator) : [],
    next: isTripped
      ? [
          ...DROP_NEXT,
          ...(isSet ? ['Log a minute of idle before the pulls: it shows what the rail holds at rest.'] : []),
        ]
      : isGappy
        ? ['Check plug, supply and wiring of the rail pressure sensor, then repeat the pull.']
        : verdict === 'not-assessed'
          ? ['Log fuel_rail_pressure at 10 Hz or more.']
          : [],
  };
}
