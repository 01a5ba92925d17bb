import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive, Pull } from '../drive/drive.ts';
import type { DutyChoice } from '../drive/duty/choice.ts';
import { deadTimeAt, valueAt } from '../drive/duty/next-step.ts';
import type { DutyPeak } from '../drive/duty/peak.ts';
import type { Duty } from '../drive/duty/series.ts';
import { cutSeries } from '../drive/pull-series.ts';
import { cycleTimeMs } from '../engine/cycle-time.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, Finding, Place } from './finding.ts';
import { limitShown, limitWords, pullPlace, rpmWords, withInterval } from './wording.ts';

export const percent = (value: number) => formatQuantity(value, '%');

export const PEAK = 'injector-duty.peak';
export const CLOSED_TIME = 'injector-duty.closed-time';

/** A static injector is open all the time: more duty gives no more fuel. */
export const STATIC_PERCENT = 100;

export const NEXT_STEPS = {
  mapping: 'Check the mapping of pulse width and duty and injectors.pulsesPerCycle in the build sheet.',
  supply: 'Log fuel rail pressure and battery voltage in a pull: a sagging supply lengthens every pulse.',
  hold: 'Do not raise boost or the rev limit until there is injector left.',
  bigger: 'Fit larger injectors, or raise fuel pressure within what pump and lines carry, and rescale.',
} as const;

/** Stretches of the pull at or above the mark; the top alone where it stays below. */
function places(duty: Duty, peak: DutyPeak, mark: number | undefined): Place[] {
  const { time, values, rpm } = cutSeries(duty.series, peak.pull.startS, peak.pull.endS);
  let [from, to] = [-1, -1];
  for (let i = 0, n = time.length; i < n; i++) {
    if (mark === undefined || values[i] < mark) continue;
    if (from < 0) from = i;
    to = i;
  }
  if (from < 0) return [pullPlace(peak.pull, peak.atS, peak.atS, [peak.rpm, peak.rpm])];
  const endS = Math.max(time[to], peak.atS);
  return [pullPlace(peak.pull, time[from], endS, [rpm[from], Math.max(rpm[to], peak.rpm)])];
}

function closedTimeWords(drive: Drive, build: Build, peak: DutyPeak): string {
  const cycleMs = cycleTimeMs(peak.rpm, build.engine.strokes) / build.injectors.pulsesPerCycle;
  const closedMs = Math.max(0, cycleMs * (1 - peak.value / 100));
  const dead = deadTimeAt(drive, build, peak.atS);
  const ms = (value: number) => formatQuantity(value, 'ms');
  return `A cycle at ${rpmWords(peak.rpm)} takes ${ms(cycleMs)}: ${ms(closedMs)} stay closed, against a dead time of ${ms(dead.ms)}. ${dead.note}`;
}

function causes(drive: Drive, choice: DutyChoice, peak: DutyPeak): Cause[] {
  const lambda = valueAt(drive, 'lambda', peak.atS);
  const volts = valueAt(drive, 'battery_voltage', peak.atS);
  const rail = valueAt(drive, 'fuel_rail_pressure', peak.atS);
  const railTarget = valueAt(drive, 'fuel_rail_pressure_target', peak.atS);
  const ethanol = valueAt(drive, 'ethanol_content', peak.atS);
  const size: Cause = {
    cause: 'The injectors are small for this air mass and fuel',
    for: [`${percent(peak.value)} duty at ${rpmWords(peak.rpm)}`],
    against: [],
  };
  const pressure: Cause = { cause: 'Fuel pressure falls under load, so pulses grow', for: [], against: [] };
  if (rail !== undefined && railTarget !== undefined && railTarget > 0) {
    const drop = 100 * (1 - rail / railTarget);
    const words = `rail pressure ${formatQuantity(rail, 'kPa')} against a target of ${formatQuantity(railTarget, 'kPa')}`;
    (drop >= 5 ? pressure.for : pressure.against).push(words);
  }
  const supply: Cause = { cause: 'Low battery voltage lengthens dead time', for: [], against: [] };
  if (volts !== undefined)
    (volts < 13 ? supply.for : supply.against).push(`${formatQuantity(volts, 'V')} at that moment`);
  const rich: Cause = { cause: 'The mixture is richer than the engine needs', for: [], against: [] };
  if (lambda !== undefined)
    (lambda < 0.76 ? rich.for : rich.against).push(`lambda ${formatQuantity(lambda, 'ratio')} at that moment`);
  const blend: Cause = { cause: 'The fuel holds more ethanol, which needs more of it', for: [], against: [] };
  if (ethanol !== undefined)
    (ethanol > 20 ? blend.for : blend.against).push(`ethanol content ${percent(ethanol)} by the sensor`);
  const told = [size, pressure, supply, rich, blend].filter((cause) => cause.for.length + cause.against.length > 0);
  if (peak.value >= STATIC_PERCENT) {
    told.unshift({
      cause: 'Bad data: pulse width in another unit, or a wrong pulsesPerCycle',
      for: [`${percent(peak.value)} is more than a cycle holds`],
      against: choice.agreement?.reading === 'same' ? ['pulse width and logged duty agree'] : [],
    });
  }
  return told;
}

export interface PeakInput {
  readonly drive: Drive;
  readonly build: Build;
  readonly choice: DutyChoice;
  readonly peaks: readonly DutyPeak[];
  readonly limit: Limit;
}

function howSeen({ build, choice }: PeakInput, peak: DutyPeak): string {
  const { duty } = choice;
  const divisor = 300 * build.engine.strokes;
  if (duty.source === 'pulse-width') {
    const rpmAt = peak.rpm;
    const pulse = (peak.value * divisor) / (rpmAt * build.injectors.pulsesPerCycle);
    return `Pulse width ${formatQuantity(pulse, 'ms')} × ${rpmWords(rpmAt)} / ${divisor} × ${build.injectors.pulsesPerCycle} = ${percent(peak.value)}.`;
  }
  return duty.source === 'logged'
    ? `The controller logged ${percent(peak.value)} at ${rpmWords(peak.rpm)}.`
    : `Airflow, mixture and injector flow ask for ${percent(peak.value)} at ${rpmWords(peak.rpm)}.`;
}

/** Slips of the logger inside the pulls, in one sentence. */
function glitchWords(duty: Duty, pulls: readonly Pull[]): string[] {
  const inside = duty.glitches.filter(({ timeS }) => pulls.some((p) => timeS >= p.startS && timeS <= p.endS));
  if (inside.length === 0) return [];
  const first = inside[0];
  const count = inside.length === 1 ? '1 lone sample was' : `${inside.length} lone samples were`;
  return [
    `${count} left out as slips: far from both neighbours (the first ${percent(first.dutyPercent)} at ${formatQuantity(first.timeS, 's')}).`,
  ];
}

function detectable(duty: Duty, peak: DutyPeak, limit: Limit): string {
  const mark = limit.warn ?? limit.fail ?? STATIC_PERCENT;
  const lasting = Math.max(0.1, (duty.series.rateHz >= 8 ? 2 : 1.5) / duty.series.rateHz);
  const half = Math.max(peak.value - peak.low, 0.1);
  return `At ${formatQuantity(duty.series.rateHz, 'Hz')} a duty of ${percent(mark + half)} or more that lasted ${formatQuantity(lasting, 's')} in a pull would have shown.`;
}

/** The peak: the worst pull decides. */
export function peakFinding(input: PeakInput): Finding {
  const { drive, build, choice, peaks, limit } = input;
  const { duty } = choice;
  const peak = peaks.reduce((a, b) => (b.value > a.value ? b : a));
  const isModelled = duty.source === 'modelled';
  const judged = judge(peak.value, limit);
  const mark = limit.fail ?? limit.warn;
  const cannotTell = judged === 'pass' && !isModelled && mark !== undefined && peak.high >= mark;
  const verdict = cannotTell ? 'not-assessed' : judged;
  const label = isModelled ? 'Modelled injector duty' : 'Injector duty';
  const reasoning = [
    choice.why,
    ...choice.modelNotes,
    `${howSeen(input, peak)} Peak of pull ${peak.pull.id}: ${withInterval(peak.value, peak.low, peak.high, '%', limit)}, ${limitWords(limit)}.`,
    ...(peak.carried
      ? [`The last update lies before the end of the pull; duty was carried on to ${rpmWords(peak.rpm)}.`]
      : []),
    ...(isModelled ? [`A model like this is good to about ±${percent(100 * duty.modelShare)} of its value.`] : []),
    ...(peak.value >= STATIC_PERCENT
      ? ['At 100 % the injector never closes: it is static, fuel no longer follows the command, or the data are wrong.']
      : []),
    ...(peak.value < STATIC_PERCENT ? [closedTimeWords(drive, build, peak)] : []),
    ...glitchWords(
      duty,
      peaks.map(({ pull }) => pull),
    ),
    ...(cannotTell
      ? [
          `At ${formatQuantity(duty.series.rateHz, 'Hz')} the log cannot tell this from ${percent(mark)}: log faster, or fewer channels.`,
        ]
      : []),
  ];
  const tripped = verdict === 'warn' || verdict === 'fail';
  const hitPeaks = tripped ? peaks.filter(({ value }) => judge(value, limit) !== 'pass') : [peak];
  return {
    id: PEAK,
    verdict,
    title: `${label} ${percent(peak.value)} at ${rpmWords(peak.rpm)}${peak.value >= STATIC_PERCENT ? ': static injector or bad data' : ''}`,
    measured: { value: peak.value, unit: '%', low: peak.low, high: peak.high },
    limit: limitShown(limit),
    reasoning,
    where: hitPeaks.flatMap((p) => places(duty, p, tripped ? (limit.warn ?? limit.fail) : undefined)),
    ...(verdict === 'pass' ? { detectable: detectable(duty, peak, limit) } : {}),
    causes: tripped ? causes(drive, choice, peak) : [],
    next: tripped
      ? [
          ...(peak.value >= STATIC_PERCENT || isModelled ? [NEXT_STEPS.mapping] : []),
          NEXT_STEPS.supply,
          NEXT_STEPS.hold,
          NEXT_STEPS.bigger,
        ]
      : cannotTell
        ? ['Log engine speed and pulse width at 10 Hz or more.']
        : [],
  };
}

/** Dead time against the closed time that is left; only with a dead time from the build sheet. */
export function closedTimeFinding({ drive, build, choice, peaks }: PeakInput, limit: Limit): Finding | undefined {
  const peak = peaks.reduce((a, b) => (b.value > a.value ? b : a));
  const dead = deadTimeAt(drive, build, peak.atS);
  if (!dead.known || peak.value >= STATIC_PERCENT) return undefined;
  const cycleMs = cycleTimeMs(peak.rpm, build.engine.strokes) / build.injectors.pulsesPerCycle;
  const share = (100 * dead.ms) / (cycleMs * (1 - peak.value / 100));
  const verdict = judge(share, limit);
  if (verdict === 'pass') return undefined;
  return {
    id: CLOSED_TIME,
    verdict,
    title: 'Hardly time left to close between pulses',
    measured: { value: share, unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      closedTimeWords(drive, build, peak),
      `Dead time is ${percent(share)} of the closed time (${limitWords(limit)}): the injector opens again before it has settled, and small changes of the pulse no longer give their fuel.`,
    ],
    where: places(choice.duty, peak, undefined),
    causes: [],
    next: [NEXT_STEPS.supply, NEXT_STEPS.bigger],
  };
}
