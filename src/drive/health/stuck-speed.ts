import type { ChannelId } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { quantile } from '../../signal/quantile.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { constantRuns, mayBeOneStretch } from './constant.ts';
import { type Check, channelName, type Doubt, overlapS, runningS, type Span, secondsOf } from './doubt.ts';
import { readingsIn } from './readings.ts';

/** Marks of what cannot be. Common practice, no source. */
const ENGINE_S = 5;
const ENGINE_UPDATES = 10;
const FILLS_S = 2;
const ROAD_CHANGE_KMH = 15;
const MANIFOLD_CHANGE_KPA = 40;
const ROAD_S = 3;
const ROAD_UPDATES = 3;
const RISE_SHARE = 0.25;
const COLD_C = 55;
const COLD_S = 300;

/** How far a channel moved in a span, its outer tenths left out. */
function rangeIn(channel: Channel | undefined, span: Span): number {
  if (!channel) return 0;
  const within = readingsIn(channel, span);
  return within.length < 5 ? 0 : quantile(within, 0.9) - quantile(within, 0.1);
}

const words = ({ startS, endS }: Span) => `from ${formatQuantity(startS, 's')} to ${formatQuantity(endS, 's')}`;

/** Engine speed that does not change at all while the car or its manifold does. */
function engineStill(drive: Drive): Doubt | undefined {
  const { channels } = drive.recording;
  const engine = channels.get('engine_speed');
  if (!engine) return undefined;
  for (const run of constantRuns(engine.time, engine.values, ENGINE_UPDATES)) {
    if (secondsOf(run) < ENGINE_S || run.value < 0) continue;
    // A manifold fills after the engine has stopped.
    const span = run.value > 0 ? run : { startS: run.startS + FILLS_S, endS: run.endS };
    const pressure = rangeIn(channels.get('manifold_pressure'), span);
    const road = run.value > 0 ? rangeIn(channels.get('vehicle_speed'), run) : 0;
    const byPressure = pressure >= MANIFOLD_CHANGE_KPA;
    if (!byPressure && road < ROAD_CHANGE_KMH) continue;
    const change = byPressure
      ? `manifold pressure moved by ${formatQuantity(pressure, 'kPa')}`
      : `road speed changed by ${formatQuantity(road, 'km/h')}`;
    return {
      gravity: overlapS(run, drive.pulls) > 0 ? 'fail' : 'warn',
      channels: ['engine_speed'],
      short: 'engine speed stood still',
      said: [
        `Engine speed read ${formatQuantity(run.value, 'rpm')} without any change ${words(run)}, while ${change}. Pulls and regimes are found by engine speed, so that stretch is not to be trusted.`,
      ],
      where: [run],
      measured: { value: secondsOf(run), unit: 's', mark: ENGINE_S },
      next: ['Check the column mapped as engine speed, then the speed sensor and its wiring.'],
    };
  }
  return undefined;
}

/** Whether the readings leave room for a stretch of `ROAD_S` in the pull: it would hold two times running of those half as far apart. */
function mayStandStill({ time, values }: Channel, { startS, endS }: Pull): boolean {
  const halfS = ROAD_S / 2;
  for (let atS = startS; atS < endS; atS += halfS) if (mayBeOneStretch(time, values, atS, atS + halfS)) return true;
  return false;
}

function roadStillIn(road: Channel, pull: Pull): Span | undefined {
  if (!mayStandStill(road, pull)) return undefined;
  return constantRuns(road.time, road.values, ROAD_UPDATES)
    .filter((run) => run.value > 3)
    .map((run) => ({ startS: Math.max(run.startS, pull.startS), endS: Math.min(run.endS, pull.endS) }))
    .find((span) => secondsOf(span) >= ROAD_S);
}

/** Road speed that does not change through seconds of a pull in one gear. Zero throughout is a dynamometer or a dead sensor, which only people can tell. */
function roadStill(drive: Drive): Doubt | undefined {
  const road = drive.recording.channels.get('vehicle_speed');
  if (!road) return undefined;
  for (const pull of drive.pulls) {
    const span = roadStillIn(road, pull);
    if (!span) continue;
    const [from, to] = engineSpeedAt(drive, Float64Array.of(span.startS, span.endS));
    if (!(to > (1 + RISE_SHARE) * from)) continue;
    return {
      gravity: 'warn',
      channels: ['vehicle_speed'],
      short: 'vehicle speed stood still',
      said: [
        `Vehicle speed did not change ${words(span)}, while engine speed rose from ${formatQuantity(from, 'rpm')} to ${formatQuantity(to, 'rpm')} in pull ${pull.id}. Gears cannot be told by it.`,
      ],
      where: [span],
      measured: { value: secondsOf(span), unit: 's', mark: ROAD_S },
      next: ['Check whether the wheels span or the clutch slipped, then the speed sensor and the mapped column.'],
    };
  }
  return undefined;
}

/** Coolant that does not warm by one step in minutes of running. */
function coolantStill(drive: Drive): Doubt | undefined {
  const coolant = drive.recording.channels.get('coolant_temperature');
  if (!coolant) return undefined;
  const run = constantRuns(coolant.time, coolant.values, 20).find(
    (r) =>
      r.value < COLD_C &&
      secondsOf(r) >= COLD_S &&
      drive.engineSpeed.some((rpm, i) => rpm > 1500 && drive.time[i] > r.startS && drive.time[i] < r.endS),
  );
  if (!run) return undefined;
  return {
    gravity: 'warn',
    channels: ['coolant_temperature'],
    short: 'coolant temperature stood still',
    said: [
      `Coolant temperature read ${formatQuantity(run.value, 'degC')} without any change ${words(run)} with the engine driven: a cold engine warms up in that time.`,
    ],
    where: [run],
    measured: { value: secondsOf(run), unit: 's', mark: COLD_S },
    next: ['Check the coolant sensor, its plug and the level of coolant.'],
  };
}

const ALL: Span = { startS: Number.NEGATIVE_INFINITY, endS: Number.POSITIVE_INFINITY };

/** Whether the log could show each of them standing still. */
const ABLE = {
  engine_speed: (drive: Drive) =>
    rangeIn(drive.recording.channels.get('manifold_pressure'), ALL) >= MANIFOLD_CHANGE_KPA ||
    rangeIn(drive.recording.channels.get('vehicle_speed'), ALL) >= ROAD_CHANGE_KMH,
  vehicle_speed: (drive: Drive) => drive.pulls.some((pull) => secondsOf(pull) >= ROAD_S),
  coolant_temperature: (drive: Drive) => drive.recording.durationS >= COLD_S && runningS(drive) >= COLD_S,
};
const FIND = { engine_speed: engineStill, vehicle_speed: roadStill, coolant_temperature: coolantStill };

/** Engine speed, road speed and coolant, each by what it must follow. */
export function stuckBySpeed(drive: Drive, isSkipped: (id: ChannelId) => boolean): Check {
  const ids = (['engine_speed', 'vehicle_speed', 'coolant_temperature'] as const).filter(
    (id) => drive.recording.channels.has(id) && !isSkipped(id) && ABLE[id](drive),
  );
  return {
    checked: ids.map(channelName),
    doubts: ids.map((id) => FIND[id](drive)).filter((doubt) => doubt !== undefined),
  };
}
