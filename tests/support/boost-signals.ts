import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Drive, Pull, PullEnd } from '../../src/drive/drive.ts';
import { type ChannelData, recordingFrom } from './build-recording.ts';
import { normalDeviates } from './drive-script.ts';

/** Gauge boost, kPa, at seconds since the pull began (negative before it) and at the engine speed then. */
export type BoostTruth = (t: number, rpm: number) => number;

export interface BoostPullSpec {
  readonly truth: BoostTruth;
  readonly seconds?: number;
  readonly rpm?: readonly [number, number];
  readonly endedBy?: PullEnd;
  /** Target manifold pressure as gauge kPa, where logged. */
  readonly target?: BoostTruth;
}

export interface BoostLogSpec {
  readonly pulls: readonly BoostPullSpec[];
  readonly rateHz?: number;
  readonly noiseKpa?: number;
  readonly stepKpa?: number;
  readonly seed?: number;
  readonly baroKpa?: number;
  /** Highest pressure the sensor shows, kPa absolute. */
  readonly topKpa?: number;
  /** Shift of the sampling instants, s. */
  readonly phaseS?: number;
}

const BEFORE_S = 4;
const AFTER_S = 2;
const CRUISE_KPA = -55;

/** A drive of several pulls with known boost: four seconds of cruise before each, two of lift after. */
export function boostDrive(spec: BoostLogSpec): Drive {
  const { rateHz = 20, noiseKpa = 0.5, stepKpa = 0, seed = 1, baroKpa = 100, topKpa = 600, phaseS = 0 } = spec;
  const deviate = normalDeviates(seed);
  const time: number[] = [];
  const rpm: number[] = [];
  const manifold: number[] = [];
  const target: number[] = [];
  const pulls: Pull[] = [];
  let originS = 0;
  let k = 0;
  for (const [i, pull] of spec.pulls.entries()) {
    const { seconds = 5, rpm: [low, high] = [2500, 6700] } = pull;
    const startS = originS + BEFORE_S;
    const endS = startS + seconds;
    for (; k / rateHz + phaseS < endS + AFTER_S - 1e-9; k++) {
      const at = k / rateHz + phaseS;
      const t = at - startS;
      const speed = t < 0 ? low : t > seconds ? high - 800 * (t - seconds) : low + ((high - low) * t) / seconds;
      const before = pull.truth(t, low);
      const gauge = t > seconds ? Math.max(CRUISE_KPA, pull.truth(seconds, high) - 400 * (t - seconds)) : before;
      const noisy = Math.min(topKpa, baroKpa + (t <= seconds ? pull.truth(t, speed) : gauge) + noiseKpa * deviate());
      time.push(at);
      rpm.push(speed);
      manifold.push(stepKpa > 0 ? Math.round(noisy / stepKpa) * stepKpa : noisy);
      target.push(baroKpa + (pull.target ? pull.target(t, speed) : 0));
    }
    pulls.push({
      id: i + 1,
      startS,
      endS,
      rpm: [low, high],
      gear: 3,
      endedBy: pull.endedBy ?? 'lift',
      usable: true,
      fitness: { boost: { ok: true }, duty: { ok: true }, timing: { ok: true }, mixture: { ok: true } },
      notes: [],
    });
    originS = endS + AFTER_S;
  }
  const channels: Partial<Record<ChannelId, ChannelData>> = {
    engine_speed: { time, values: rpm, rateHz },
    manifold_pressure: { time, values: manifold, rateHz },
    ...(spec.pulls.some((pull) => pull.target) ? { manifold_pressure_target: { time, values: target, rateHz } } : {}),
  };
  const recording = recordingFrom({ channels, barometricKpa: baroKpa });
  const base = Float64Array.from(time);
  return {
    recording,
    time: base,
    engineSpeed: Float64Array.from(rpm),
    regime: new Uint8Array(base.length),
    load: undefined,
    pulls,
    notes: [],
  };
}

/** First-order rise from `from` to `level`, beginning at `at` seconds into the pull. */
export const firstOrder =
  (level: number, tau: number, at = 0, from = CRUISE_KPA): BoostTruth =>
  (t) =>
    t < at ? from : from + (level - from) * (1 - Math.exp(-(t - at) / tau));

/** Second-order step response of a rise from 0 to `level`; cruise vacuum before. Overshoot exp(−πζ/√(1−ζ²)). */
export const secondOrder =
  (level: number, zeta: number, wn: number, at = 0.3): BoostTruth =>
  (t) => {
    if (t < 0) return CRUISE_KPA;
    if (t < at) return CRUISE_KPA * (1 - t / at);
    const wd = wn * Math.sqrt(1 - zeta * zeta);
    const x = t - at;
    const decay = Math.exp(-zeta * wn * x);
    return level * (1 - decay * (Math.cos(wd * x) + (zeta / Math.sqrt(1 - zeta * zeta)) * Math.sin(wd * x)));
  };

export const overshootOf = (zeta: number) => 100 * Math.exp((-Math.PI * zeta) / Math.sqrt(1 - zeta * zeta));

/** A straight spool to `level` over `spoolS`, then whatever `after` adds from that moment on. */
export const spoolThen =
  (level: number, spoolS: number, after: (sinceS: number, rpm: number) => number = () => 0): BoostTruth =>
  (t, rpm) => {
    if (t < 0) return CRUISE_KPA;
    if (t < 0.15) return CRUISE_KPA * (1 - t / 0.15);
    const share = (t - 0.15) / spoolS;
    return share < 1 ? level * share : level + after(t - 0.15 - spoolS, rpm);
  };

/** A half-sine bump. */
export const bump = (t: number, atS: number, widthS: number, heightKpa: number) =>
  Math.abs(t - atS) < widthS / 2 ? heightKpa * Math.cos((Math.PI * (t - atS)) / widthS) : 0;
