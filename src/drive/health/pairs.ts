import type { Build } from '../../build-sheet/build.ts';
import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { median } from '../../signal/median.ts';
import { alignedTo } from '../align.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive } from '../drive.ts';
import { compareDuty } from '../duty/agreement.ts';
import { computedDuty, loggedDuty } from '../duty/series.ts';
import { sustainedTop } from '../load-signal.ts';
import { isThrottled } from './activity.ts';
import { type Check, type Doubt, type Span, secondsOf } from './doubt.ts';
import { readingsIn } from './readings.ts';

const NOTHING: Check = { checked: [], doubts: [] };
const one = (pair: string, doubt: Doubt | undefined): Check => ({ checked: [pair], doubts: doubt ? [doubt] : [] });

/** Marks. Common practice, no source. */
const FULL_PEDAL_SHARE = 0.9;
const LOW_THROTTLE_PERCENT = 50;
/** Below this an engine without boost fills as well through half a throttle, and some controllers leave it there, rpm. */
const LEAST_RPM = 2500;
/** Torque management closes the throttle for less than this, s. */
const LONG_S = 1.5;
/** Between two readings of a slow channel nothing is known. */
const LEAST_UPDATES = 4;

/** Pedal on the floor, throttle low for longer than any torque management: a controller that protects itself, or a wrong channel. */
export function pedalAgainstThrottle(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const pedal = drive.recording.channels.get('accelerator_position');
  const throttle = drive.recording.channels.get('throttle_position');
  if (!pedal || !throttle || isSkipped(pedal.id) || isSkipped(throttle.id)) return NOTHING;
  if (isThrottled(drive) !== true || pedal.values.length < 10 || throttle.values.length < 10) return NOTHING;
  const pedalTop = sustainedTop(pedal.values);
  if (pedalTop < 70 || pedal.max === pedal.min) return NOTHING;
  const fullPedal = FULL_PEDAL_SHARE * pedalTop;
  const foot = alignedTo(pedal, throttle.time);
  const rpm = engineSpeedAt(drive, throttle.time);
  const isApart = (i: number) =>
    foot[i] >= fullPedal && throttle.values[i] < LOW_THROTTLE_PERCENT && rpm[i] > LEAST_RPM;
  const where: Span[] = [];
  for (let i = 0, n = foot.length; i < n; i++) {
    if (!isApart(i)) continue;
    let to = i;
    while (to + 1 < foot.length && isApart(to + 1) && throttle.time[to + 1] - throttle.time[to] < 2) to++;
    const span = { startS: throttle.time[i], endS: throttle.time[to] };
    if (secondsOf(span) >= LONG_S && to - i + 1 >= LEAST_UPDATES) where.push(span);
    i = to;
  }
  const longest = where.length > 0 ? Math.max(...where.map(secondsOf)) : 0;
  return one(
    'accelerator and throttle',
    where.length === 0
      ? undefined
      : {
          gravity: 'warn',
          channels: ['accelerator_position', 'throttle_position'],
          short: 'throttle stayed low at full pedal',
          said: [
            `The accelerator was at ${formatQuantity(fullPedal, '%')} or more while the throttle stayed below ${formatQuantity(LOW_THROTTLE_PERCENT, '%')} for up to ${formatQuantity(longest, 's')}. Torque management is shorter: either the controller holds the throttle back, or one of the two is wrong. Pulls there are not full load.`,
          ],
          where,
          measured: { value: longest, unit: 's', mark: LONG_S },
          next: [
            'Read the fault memory: a controller that protects itself closes the throttle.',
            'Check the throttle body and both mapped columns.',
          ],
        },
  );
}

/** Manifold pressure with the engine off is the air pressure. Weather and height are in both. Common practice, no source. */
const KEY_ON_APART_KPA = 4;
/** The build sheet does not know the weather. */
const SHEET_APART_KPA = 6;
/** Air pressure this near in time belongs to the place of the key-on, s. */
const SAME_PLACE_S = 30;
const KEY_ON_UPDATES = 3;
const FILLS_S = 2;

function airAround(barometric: Channel, { startS, endS }: Span): number {
  const near = readingsIn(barometric, { startS: startS - SAME_PLACE_S, endS: endS + SAME_PLACE_S });
  return median(near.length > 0 ? near : barometric.values);
}

/** Manifold pressure with the engine at rest against the logged, else the build sheet's air pressure. */
export function keyOnAgainstBarometric(drive: Drive, build: Build, isSkipped: (id: ChannelId) => boolean): Check {
  const manifold = drive.recording.channels.get('manifold_pressure');
  const barometric = drive.recording.channels.get('barometric_pressure');
  const engine = drive.recording.channels.get('engine_speed');
  if (!manifold || !engine || engine.min > 0 || isSkipped(manifold.id)) return NOTHING;
  const rpm = engineSpeedAt(drive, manifold.time);
  let turnedAtS = Number.NEGATIVE_INFINITY;
  const off: number[] = [];
  for (let i = 0, n = rpm.length; i < n; i++) {
    if (rpm[i] !== 0) turnedAtS = manifold.time[i];
    else if (manifold.time[i] - turnedAtS >= FILLS_S) off.push(i);
  }
  if (off.length < KEY_ON_UPDATES) return NOTHING;
  const where = { startS: manifold.time[off[0]], endS: manifold.time[off[off.length - 1]] };
  const witness = barometric && !isSkipped(barometric.id) ? barometric : undefined;
  const air = witness ? airAround(witness, where) : build.ambient.barometricKpa;
  if (air === undefined) return NOTHING;
  const level = median(Float64Array.from(off, (i) => manifold.values[i]));
  const apart = level - air;
  const by = witness ? 'the logged barometric pressure' : 'the air pressure of the build sheet';
  const mark = witness ? KEY_ON_APART_KPA : SHEET_APART_KPA;
  const isFar = Math.abs(apart) >= mark;
  if (Math.abs(apart) < mark / 2) return one('manifold pressure at rest and air pressure', undefined);
  return one('manifold pressure at rest and air pressure', {
    gravity: isFar ? 'warn' : 'tell',
    channels: witness ? ['manifold_pressure', 'barometric_pressure'] : ['manifold_pressure'],
    short: 'manifold and air pressure differ with the engine off',
    said: [
      `With the engine off manifold pressure read ${formatQuantity(level, 'kPa')} and ${by} is ${formatQuantity(air, 'kPa')}: ${formatQuantity(apart, 'kPa')} apart, where both are the same air. Gauge boost is off by as much.`,
    ],
    where: [where],
    measured: { value: Math.abs(apart), unit: 'kPa', mark },
    next: isFar
      ? [
          'Check gauge or absolute, scale and offset of both pressures in the mapping, and the weather at the place and time.',
          'Compare both sensors with a gauge that is known to be right.',
        ]
      : [],
  });
}

const READING = {
  twice: 'about twice as much: pulses per cycle or strokes on the build sheet may be wrong',
  half: 'about half as much: pulses per cycle or strokes on the build sheet may be wrong',
  fraction: 'a hundredth or so: one of the two is a ratio, or in another unit',
  'other-unit': 'many times as much: one of the two is in another unit',
  differs: 'which rounding and time base do not explain',
} as const;

/** The controller's own duty against pulse width times engine speed, inside the pulls; `apartPercent` is the mark of the injector duty analyser. */
export function dutyAgainstPulseWidth(
  drive: Drive,
  build: Build,
  apartPercent: number,
  isSkipped: (id: ChannelId) => boolean,
): Check {
  if (isSkipped('injector_duty') || isSkipped('injector_pulse_width')) return NOTHING;
  const computed = computedDuty(drive, build);
  const logged = loggedDuty(drive);
  const agreement = computed && logged && compareDuty(drive, computed, logged, apartPercent);
  if (!agreement) return NOTHING;
  if (agreement.reading === 'same') return one('logged and computed duty', undefined);
  return one('logged and computed duty', {
    gravity: 'warn',
    channels: ['injector_duty', 'injector_pulse_width'],
    short: 'logged and computed duty differ',
    said: [
      `In the pulls the logged duty is ${formatQuantity(agreement.difference, '%')} from the duty that pulse width and engine speed give (${agreement.ratio.toFixed(2)} times it, ${agreement.samples} readings), ${READING[agreement.reading]}.`,
    ],
    where: drive.pulls.map(({ startS, endS }) => ({ startS, endS })),
    measured: { value: Math.abs(agreement.difference), unit: '%', mark: apartPercent },
    next: ['Check pulsesPerCycle and strokes on the build sheet, and the unit of pulse width in the mapping.'],
  });
}
