import type { Build } from '../../build-sheet/build.ts';
import type { ChannelId } from '../../channels/catalogue.ts';
import { overallRatio } from '../../engine/gear-ratio.ts';
import { median } from '../../signal/median.ts';
import { alignedChannel } from '../align.ts';
import { type Drive, REGIME_CODE } from '../drive.ts';
import type { Check, Doubt } from './doubt.ts';

/** Marks. Half the usual step between gears is 12 %, a converter slips by some percent. Common practice, no source. */
const APART = 0.15;
const NEAR_A_GEAR = 0.07;
const LEAST_NEAR_SHARE = 0.1;
const SLOWEST_KMH = 25;
const SLOWEST_RPM = 1300;
const LEAST_S = 5;
const LEAST_S_WITHOUT_GEAR = 20;
const LEAST_UPDATES = 10;
/** Kilometres in a mile. */
const MILE_KM = 1.609344;

interface Steady {
  readonly overall: number[];
  readonly gear: number[];
  readonly seconds: number;
  readonly startS: number;
  readonly endS: number;
}

/** Overall ratio wherever the car cruised. */
function steadyRatios(drive: Drive, tyreM: number): Steady | undefined {
  const speed = alignedChannel(drive.recording, 'vehicle_speed', drive.time);
  if (!speed) return undefined;
  const logged = alignedChannel(drive.recording, 'gear', drive.time);
  const { time, engineSpeed, regime } = drive;
  const overall: number[] = [];
  const gear: number[] = [];
  let [seconds, startS, endS] = [0, Number.NaN, Number.NaN];
  for (let i = 1, n = time.length; i < n; i++) {
    const steady = regime[i] === REGIME_CODE.cruise && regime[i - 1] === REGIME_CODE.cruise;
    if (!steady || !(speed[i] > SLOWEST_KMH) || !(engineSpeed[i] > SLOWEST_RPM)) continue;
    if (logged && !(logged[i] >= 1)) continue;
    overall.push(overallRatio(engineSpeed[i], speed[i], tyreM));
    gear.push(logged ? Math.round(logged[i]) : 0);
    seconds += Math.min(2, time[i] - time[i - 1]);
    if (Number.isNaN(startS)) startS = time[i];
    endS = time[i];
  }
  return overall.length >= LEAST_UPDATES ? { overall, gear, seconds, startS, endS } : undefined;
}

const NEXT = [
  'Check the unit of vehicle speed (km/h or mph), then tyre circumference, gear ratios and final drive on the build sheet.',
];

function hint(quotient: number): string {
  const isMile = (times: number) => Math.abs(quotient / times - 1) < 0.06;
  return isMile(MILE_KM) || isMile(1 / MILE_KM) ? ' That is the quotient of mile and kilometre.' : '';
}

function doubt(steady: Steady, channels: readonly ChannelId[], said: string, value: number, mark: number): Doubt {
  return {
    gravity: 'warn',
    channels,
    short: 'road speed and gear ratios differ',
    said: [said],
    where: [{ startS: steady.startS, endS: steady.endS }],
    measured: { value, unit: '%', mark },
    next: NEXT,
  };
}

/** Engine speed over road speed against the gear ratios of the build sheet, in steady driving. */
export function roadSpeedAgainstGears(drive: Drive, build: Build, isSkipped: (id: ChannelId) => boolean): Check {
  const { gearRatios, finalDrive, tyreCircumferenceM } = build.vehicle;
  const nothing: Check = { checked: [], doubts: [] };
  if (gearRatios.length === 0 || finalDrive === undefined || tyreCircumferenceM === undefined) return nothing;
  if (isSkipped('vehicle_speed') || isSkipped('engine_speed')) return nothing;
  const steady = steadyRatios(drive, tyreCircumferenceM);
  if (!steady || steady.seconds < LEAST_S) return nothing;
  const expected = gearRatios.map((ratio) => ratio * finalDrive);
  const checked = ['road speed and gear ratios'];
  const byGear = steady.overall.flatMap((overall, i) => {
    const wanted = expected[steady.gear[i] - 1];
    return wanted === undefined ? [] : [overall / wanted];
  });
  if (drive.recording.channels.has('gear') && !isSkipped('gear')) {
    if (byGear.length < LEAST_UPDATES) return nothing;
    const quotient = median(byGear);
    if (Math.abs(quotient - 1) <= APART) return { checked, doubts: [] };
    const said = `In steady driving engine speed over road speed is ${quotient.toFixed(2)} times what the logged gear, the build sheet's ratios and its tyre give (median of ${byGear.length} readings).${hint(quotient)}`;
    const channels = ['vehicle_speed', 'gear'] as const;
    return { checked, doubts: [doubt(steady, channels, said, 100 * Math.abs(quotient - 1), 100 * APART)] };
  }
  if (steady.seconds < LEAST_S_WITHOUT_GEAR) return nothing;
  const enough = LEAST_NEAR_SHARE * steady.overall.length;
  let near = 0;
  for (const overall of steady.overall) {
    if (expected.some((gear) => Math.abs(overall / gear - 1) <= NEAR_A_GEAR)) near++;
    if (near >= enough) return { checked, doubts: [] };
  }
  const share = near / steady.overall.length;
  const said = `In steady driving engine speed over road speed fits none of the build sheet's gears within ${100 * NEAR_A_GEAR} % in all but ${(100 * share).toFixed(0)} % of ${steady.overall.length} readings (median overall ratio ${median(steady.overall).toFixed(2)}; gears ${expected.map((ratio) => ratio.toFixed(2)).join(', ')}).`;
  return { checked, doubts: [doubt(steady, ['vehicle_speed'], said, 100 * share, 100 * LEAST_NEAR_SHARE)] };
}
