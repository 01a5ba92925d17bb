import type { ChannelData } from './build-recording.ts';

/** One stretch of an analytic drive: engine speed and pedal run in straight lines over its duration. */
export interface Stretch {
  readonly seconds: number;
  readonly rpm: readonly [number, number];
  readonly pedal: readonly [number, number];
  readonly speed?: readonly [number, number];
}

export interface Script {
  readonly rateHz: number;
  readonly stretches: readonly Stretch[];
  readonly noiseRpm?: number;
  readonly seed?: number;
}

/** A small seeded generator of normal deviates for tests (mulberry32 and Box–Muller). */
export function normalDeviates(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Engine speed, pedal and road speed of an analytic drive, sampled at `rateHz`; the truth of each stretch is its own line. */
export function scriptedDrive(
  script: Script,
): Record<'engine_speed' | 'accelerator_position' | 'vehicle_speed', ChannelData> {
  const time: number[] = [];
  const rpm: number[] = [];
  const pedal: number[] = [];
  const speed: number[] = [];
  const deviate = normalDeviates(script.seed ?? 1);
  const dt = 1 / script.rateHz;
  let startS = 0;
  let i = 0;
  for (const stretch of script.stretches) {
    const endS = startS + stretch.seconds;
    for (; i * dt < endS - 1e-9; i++) {
      const share = (i * dt - startS) / stretch.seconds;
      const line = ([a, b]: readonly [number, number]) => a + share * (b - a);
      time.push(i * dt);
      rpm.push(line(stretch.rpm) + (script.noiseRpm ?? 0) * deviate());
      pedal.push(line(stretch.pedal));
      speed.push(line(stretch.speed ?? [0, 0]));
    }
    startS = endS;
  }
  const channel = (values: number[]): ChannelData => ({ time, values, rateHz: script.rateHz });
  return { engine_speed: channel(rpm), accelerator_position: channel(pedal), vehicle_speed: channel(speed) };
}

/** A base run: idle, cruise, two third-gear pulls to 6,700 rpm with lifts between, overrun, idle. */
export function baseRun(rateHz: number, noiseRpm = 0, seed = 1): ReturnType<typeof scriptedDrive> {
  const perKmh = 60;
  const at = (rpm: number) => rpm / perKmh;
  const moving = (seconds: number, from: number, to: number, pedal: readonly [number, number]): Stretch => ({
    seconds,
    rpm: [from, to],
    pedal,
    speed: [at(from), at(to)],
  });
  return scriptedDrive({
    rateHz,
    noiseRpm,
    seed,
    stretches: [
      { seconds: 3, rpm: [0, 0], pedal: [0, 0] },
      { seconds: 20, rpm: [820, 820], pedal: [0, 0] },
      moving(6, 1200, 2500, [25, 25]),
      moving(15, 2500, 2500, [18, 18]),
      moving(6, 2500, 6700, [100, 100]),
      moving(6, 6700, 2500, [0, 0]),
      moving(10, 2500, 2500, [18, 18]),
      moving(6, 2500, 6700, [100, 100]),
      moving(8, 6700, 1500, [0, 0]),
      { seconds: 10, rpm: [820, 820], pedal: [0, 0] },
    ],
  });
}
