import type { ChannelId } from '../../src/channels/catalogue.ts';
import type { Drive, Pull } from '../../src/drive/drive.ts';
import { type ChannelData, recordingFrom } from './build-recording.ts';
import { aBuild } from './build-sheet.ts';
import { normalDeviates } from './drive-script.ts';

/** A car whose torque is known, driven up the engine speeds by Newton's law alone. */
export interface TorqueTruth {
  /** N m at an engine speed. */
  readonly torque?: (rpm: number) => number;
  readonly peakNm?: number;
  /** N m for each gram of air in a cycle; 80 is an ordinary boosted petrol engine. */
  readonly nmPerGram?: number;
  readonly rateHz?: number;
  readonly noiseRpm?: number;
  /** Rise over run of the road. */
  readonly slope?: number;
  readonly massKg?: number;
  readonly leaveOut?: readonly ChannelId[];
  readonly gear?: number | undefined;
  readonly more?: Partial<Record<ChannelId, number>>;
  readonly seed?: number;
}

export const RATIOS = [3.3, 1.94, 1.31, 1.03, 0.82];
const FINAL = 3.94;
const TYRE_M = 1.93;
const DISPLACEMENT_L = 2;
const VE = 0.9;
const CHARGE_C = 45;
const BAROMETRIC_KPA = 100;

export const TORQUE_SHEET = aBuild({
  engine: { displacementL: DISPLACEMENT_L, volumetricEfficiency: VE },
  fullLoadLambda: 0.82,
  vehicle: { massKg: 1400, gearRatios: RATIOS, finalDrive: FINAL, tyreCircumferenceM: TYRE_M, dragAreaM2: 0.66 },
});

/** Highest at 3,200 rpm, in the lower half of a speed range to 6,900 rpm. */
const humped = (peakNm: number) => (rpm: number) => peakNm * (1 - ((rpm - 3200) / 6500) ** 2);

/** Cruise, one third-gear pull from 2,400 to 6,600 rpm, coasting. */
export function torqueDrive(truth: TorqueTruth = {}): Drive {
  const { peakNm = 300, nmPerGram = 80, rateHz = 20, noiseRpm = 4, slope = 0, massKg = 1400 } = truth;
  const torque = truth.torque ?? humped(peakNm);
  const deviate = normalDeviates(truth.seed ?? 1);
  const radius = TYRE_M / (2 * Math.PI);
  const overall = RATIOS[2] * FINAL;
  const dt = 0.002;
  const startS = 4;
  let omega = (2400 * Math.PI) / 30;
  let endS = 0;
  let nextS = 0;
  const time: number[] = [];
  const rpms: number[] = [];
  const kpas: number[] = [];
  for (let k = 0; ; k++) {
    const t = k * dt;
    const rpm = (omega * 30) / Math.PI;
    const pulling = t >= startS && endS === 0;
    if (pulling && rpm >= 6600) endS = t;
    if (endS > 0 && t > endS + 2) break;
    const speed = (omega * radius) / overall;
    if (t >= nextS - 1e-9) {
      // Air for that torque: pressure = mass × R × T / (VE × displacement).
      const airG = torque(rpm) / nmPerGram;
      const kpa = (airG * 287.05 * (CHARGE_C + 273.15)) / (VE * DISPLACEMENT_L) / 1000;
      time.push(t);
      rpms.push(rpm + noiseRpm * deviate());
      kpas.push((pulling ? kpa : 45) + 0.4 * deviate());
      nextS += 1 / rateHz;
    }
    const resist = massKg * 9.80665 * (0.012 + slope) + 0.5 * 1.19 * 0.66 * speed * speed;
    const drive = pulling ? (torque(rpm) * 0.9 * overall) / radius : t < startS ? resist : 0;
    omega += (((drive - resist) / (massKg * 1.06)) * dt * overall) / radius;
  }
  const flat = (value: number): ChannelData => ({ time, values: time.map(() => value), rateHz });
  const all: Partial<Record<ChannelId, ChannelData>> = {
    engine_speed: { time, values: rpms, rateHz },
    manifold_pressure: { time, values: kpas, rateHz },
    charge_air_temperature: flat(CHARGE_C),
    lambda: flat(0.82),
    vehicle_speed: {
      time,
      values: rpms.map((rpm) => Math.floor(((rpm / 60 / overall) * TYRE_M * 3.6) / 1)),
      rateHz,
    },
    ...Object.fromEntries(Object.entries(truth.more ?? {}).map(([id, value]) => [id, flat(value as number)])),
  };
  for (const id of truth.leaveOut ?? []) delete all[id];
  const pull: Pull = {
    id: 1,
    startS,
    endS,
    rpm: [2400, 6600],
    gear: 'gear' in truth ? truth.gear : 3,
    endedBy: 'lift',
    usable: true,
    fitness: { boost: { ok: true }, duty: { ok: true }, timing: { ok: true }, mixture: { ok: true } },
    notes: [],
  };
  const base = Float64Array.from(time);
  return {
    recording: recordingFrom({ channels: all, barometricKpa: BAROMETRIC_KPA }),
    time: base,
    engineSpeed: Float64Array.from(rpms),
    regime: new Uint8Array(base.length),
    load: undefined,
    pulls: [pull],
    notes: [],
  };
}
