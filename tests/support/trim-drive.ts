import type { Build } from '../../src/build-sheet/build.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { type ChannelData, recordingFrom } from './build-recording.ts';
import { aBuild } from './build-sheet.ts';
import { normalDeviates } from './drive-script.ts';

/** A stretch at one operating point, reached within half a second of its start. */
export interface Hold {
  readonly seconds: number;
  readonly rpm: number;
  readonly load: number;
  readonly pedal: number;
  readonly kmh: number;
  /** J1979 fuel system status; 2 where left out. */
  readonly status?: number;
}

export interface Moment {
  readonly t: number;
  readonly hold: Hold;
  /** Seconds since the start of the hold. */
  readonly since: number;
}

export interface TrimScript {
  readonly holds: readonly Hold[];
  /** True total trim, %. */
  readonly total: (moment: Moment) => number;
  readonly totalBank2?: (moment: Moment) => number;
  /** Part of the total that sits in the long term trim, %. */
  readonly longTerm?: (moment: Moment) => number;
  readonly rateHz?: number;
  readonly trimRateHz?: number;
  readonly swing?: { readonly percent: number; readonly hz: number };
  readonly noisePercent?: number;
  readonly quantum?: number;
  readonly seed?: number;
  readonly coolant?: (t: number) => number;
  readonly drop?: readonly ChannelId[];
  readonly extra?: Partial<Record<ChannelId, ChannelData>>;
}

export const IDLE: Hold = { seconds: 40, rpm: 820, load: 18, pedal: 0, kmh: 0 };
export const LIGHT: Hold = { seconds: 60, rpm: 2000, load: 30, pedal: 14, kmh: 60 };
export const BRISK: Hold = { seconds: 60, rpm: 3000, load: 65, pedal: 35, kmh: 100 };

/** Ten minutes: idle, two cruises, idle again, and so on. */
export const TEN_MINUTES: readonly Hold[] = [
  IDLE,
  LIGHT,
  BRISK,
  IDLE,
  LIGHT,
  BRISK,
  IDLE,
  LIGHT,
  BRISK,
  IDLE,
  LIGHT,
].map((hold) => ({ ...hold, seconds: (hold.seconds * 600) / 580 }));

/** One pull: full pedal, speed rising, open loop (status 4). */
export const PULL: readonly Hold[] = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => ({
  seconds: 0.75,
  rpm: 2500 + 550 * i,
  load: 160,
  pedal: 100,
  kmh: 60 + 12 * i,
  status: 4,
}));

function at(holds: readonly Hold[], t: number): { hold: Hold; since: number; before: Hold } {
  let start = 0;
  for (let i = 0; i < holds.length; i++) {
    const end = start + holds[i].seconds;
    if (t < end - 1e-9 || i === holds.length - 1) {
      return { hold: holds[i], since: t - start, before: holds[Math.max(0, i - 1)] };
    }
    start = end;
  }
  throw new Error('no holds');
}

const quantised = (value: number, quantum: number) => (quantum > 0 ? Math.round(value / quantum) * quantum : value);

/** A drive with known trims: rpm, load, pedal, road speed, coolant, status and the trims of one bank or two. */
export function trimDrive(script: TrimScript, build: Build = aBuild()): Drive {
  const rateHz = script.rateHz ?? 5;
  const trimRateHz = script.trimRateHz ?? rateHz;
  const deviate = normalDeviates(script.seed ?? 7);
  const endS = script.holds.reduce((sum, hold) => sum + hold.seconds, 0);
  const channel = (rate: number, value: (t: number) => number): ChannelData => {
    const time = Array.from({ length: Math.floor(endS * rate) }, (_, i) => i / rate);
    return { time, values: time.map(value), rateHz: rate };
  };
  const blend = (t: number, of: (hold: Hold) => number) => {
    const { hold, since, before } = at(script.holds, t);
    const share = Math.min(1, since / Math.min(hold.seconds, 0.75));
    return of(before) + share * (of(hold) - of(before));
  };
  const swing = script.swing ?? { percent: 2.5, hz: 0.9 };
  const noise = script.noisePercent ?? 0.4;
  const quantum = script.quantum ?? 0.78125;
  const moment = (t: number): Moment => ({ t, ...at(script.holds, t) });
  const triangle = (t: number) => {
    const phase = (t * swing.hz) % 1;
    return swing.percent * (4 * Math.abs(phase - 0.5) - 1);
  };
  const longTerm = (t: number) => script.longTerm?.(moment(t)) ?? 0;
  const shortTerm = (total: (m: Moment) => number, lag: number) => (t: number) => {
    const base = ((1 + total(moment(t)) / 100) / (1 + quantised(longTerm(t), quantum) / 100) - 1) * 100;
    return quantised(base + triangle(t + lag) + noise * deviate(), quantum);
  };
  const two = script.totalBank2;
  const channels: Partial<Record<ChannelId, ChannelData>> = {
    engine_speed: channel(rateHz, (t) => blend(t, (h) => h.rpm) + 6 * deviate()),
    vehicle_speed: channel(rateHz, (t) => blend(t, (h) => h.kmh)),
    accelerator_position: channel(rateHz, (t) => blend(t, (h) => h.pedal)),
    absolute_load: channel(rateHz, (t) => blend(t, (h) => h.load) + 0.4 * deviate()),
    coolant_temperature: channel(1, (t) => script.coolant?.(t) ?? 88),
    fuel_system_status: channel(2, (t) => at(script.holds, t).hold.status ?? 2),
    short_term_fuel_trim_1: channel(trimRateHz, shortTerm(script.total, 0)),
    long_term_fuel_trim_1: channel(1, (t) => quantised(longTerm(t), quantum)),
    ...(two
      ? {
          short_term_fuel_trim_2: channel(trimRateHz, shortTerm(two, 0.4)),
          long_term_fuel_trim_2: channel(1, (t) => quantised(longTerm(t), quantum)),
        }
      : {}),
    ...script.extra,
  };
  for (const id of script.drop ?? []) delete channels[id];
  return segmentDrive(recordingFrom({ channels }), build);
}
