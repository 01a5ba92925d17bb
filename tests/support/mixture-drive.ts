import type { Build } from '../../src/build-sheet/build.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { type ChannelData, recordingFrom } from './build-recording.ts';
import { aBuild } from './build-sheet.ts';
import { baseRun, normalDeviates } from './drive-script.ts';

/** Starts of the two six-second pulls of the base run, s; they run from 2,500 to 6,700 rpm. */
export const PULL_STARTS = [44, 66] as const;
export const PULL_S = 6;
export const BARO_KPA = 100;
const FINE_S = 0.005;

/** Seconds into a pull, undefined outside. */
export const intoPull = (t: number) => PULL_STARTS.map((s) => t - s).find((x) => x >= 0 && x <= PULL_S);
const isOverrun = (t: number) => (t > 50 && t < 55.5) || (t > 72 && t < 78);

/** Manifold pressure, kPa absolute: vacuum off load, 100 kPa of boost a second and a half into a pull. */
export function manifoldAt(t: number, boostKpa = 100): number {
  const into = intoPull(t);
  if (into !== undefined) return Math.min(BARO_KPA + boostKpa, 45 + (into * (55 + boostKpa)) / 1.5);
  if (t < 3) return BARO_KPA;
  return t < 23 || isOverrun(t) || t > 80 ? 32 : 55;
}

export interface MixtureScript {
  readonly rateHz?: number;
  /** Asked lambda in a pull, by seconds into it. */
  readonly asked?: (into: number) => number;
  /** What is added to the asked one in a pull. */
  readonly error?: (into: number, pull: number) => number;
  readonly deadS?: number;
  readonly tauS?: number;
  readonly noise?: number;
  readonly seed?: number;
  readonly boostKpa?: number;
  /** Left out by default. */
  readonly logsTarget?: boolean;
  readonly noManifold?: boolean;
  readonly noPulse?: boolean;
  readonly sheet?: Parameters<typeof aBuild>[0];
  readonly change?: (lambda: number, t: number, i: number) => number;
  readonly more?: (time: ArrayLike<number>, rpm: ArrayLike<number>) => Partial<Record<ChannelId, ChannelData>>;
}

/** True mixture before transport and sensor. */
function burnt({ asked = () => 0.82, error = () => 0 }: MixtureScript, t: number): number {
  const into = intoPull(t);
  if (into !== undefined) return asked(into) + error(into, t > 60 ? 2 : 1);
  return isOverrun(t) ? 1.9 : 1;
}

/** A base run whose mixture, its transport delay and its sensor's time constant are known. */
export function mixtureDrive(script: MixtureScript = {}): { drive: Drive; build: Build } {
  const { rateHz = 20, deadS = 0.1, tauS = 0.12, noise = 0.003, seed = 1, boostKpa = 100 } = script;
  const base: Record<string, ChannelData> = baseRun(rateHz, 5, seed);
  const { time, values: rpm } = base.engine_speed;
  const deviate = normalDeviates(seed + 77);
  const shown: number[] = [];
  let state = 1;
  let t = 0;
  for (let i = 0; i < time.length; i++) {
    for (; t < time[i]; t += FINE_S) {
      state += (burnt(script, t - deadS) - state) * (tauS > 0 ? 1 - Math.exp(-FINE_S / tauS) : 1);
    }
    const noisy = state + noise * deviate();
    shown.push(script.change ? script.change(noisy, time[i], i) : noisy);
  }
  const of = (value: (t: number, i: number) => number): ChannelData => ({
    time,
    values: Array.from(time, value),
    rateHz,
  });
  const asked = script.asked ?? (() => 0.82);
  const askedAt = (x: number) => {
    const into = intoPull(x);
    return into === undefined ? 1 : asked(into);
  };
  const channels = {
    ...base,
    lambda: { time, values: shown, rateHz },
    ...(script.noManifold ? {} : { manifold_pressure: of((x) => manifoldAt(x, boostKpa) + 0.3 * deviate()) }),
    ...(script.logsTarget ? { lambda_target: of(askedAt) } : {}),
    ...(script.noPulse
      ? {}
      : { injector_pulse_width: of((x) => (x < 3 || isOverrun(x) ? 0 : intoPull(x) === undefined ? 2 : 9)) }),
    ...script.more?.(time, rpm),
  };
  const build = aBuild(script.sheet ?? { fullLoadLambda: 0.82 });
  return { drive: segmentDrive(recordingFrom({ channels, barometricKpa: BARO_KPA }), build), build };
}
