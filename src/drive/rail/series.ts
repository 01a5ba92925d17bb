import { oncePer } from '../../kernel/once-per.ts';
import { loneSamples } from '../../signal/lone-samples.ts';
import { median } from '../../signal/median.ts';
import { alignedChannel } from '../align.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive } from '../drive.ts';
import { outsideAirAt } from '../outside-air.ts';
import { regimesAt } from '../regime-at.ts';

/** Rail pressure and what it works against, on the rail sensor's own time base. */
export interface Rail {
  readonly time: Float64Array;
  /** kPa gauge. */
  readonly railKpa: Float64Array;
  /** Manifold pressure, kPa absolute; NaN where not logged. */
  readonly manifoldKpa: Float64Array;
  /** Rail + barometric − manifold: the pressure across an injector in the inlet port, kPa. */
  readonly differentialKpa: Float64Array;
  /** Target, kPa gauge; undefined where not logged. */
  readonly targetKpa: Float64Array | undefined;
  readonly rpm: Float64Array;
  /** What the car was doing: index into `REGIMES`, 255 where nothing tells. */
  readonly regime: Uint8Array;
  readonly barometricKpa: number;
  readonly rateHz: number;
  readonly hasManifold: boolean;
  /** Pressure in the cylinder and not in the port is what direct injection works against; the manifold hardly counts. */
  readonly isDirect: boolean;
  readonly halfStepKpa: number;
  /** How far apart in time rail and manifold readings may be, s. */
  readonly skewS: number;
  /** Times of readings left out: far from both neighbours, or outside what the channel can be. */
  readonly leftOut: readonly number[];
}

/** Port injection ends well below this, direct injection idles above it, kPa. Common practice, no source. */
const DIRECT_FROM_KPA = 1500;
const SLIP_FLOOR_SHARE = 0.15;
const READABLE = [0, 40000] as const;

function differentials(railKpa: Float64Array, manifoldKpa: Float64Array, outsideKpa: Float64Array): Float64Array {
  const result = new Float64Array(railKpa.length);
  for (let i = 0, n = result.length; i < n; i++) result[i] = railKpa[i] + outsideKpa[i] - manifoldKpa[i];
  return result;
}

/** Rail pressure of the whole log with its slips left out; nothing where it is not logged. */
export const railSeries = oncePer((drive: Drive): Rail | undefined => {
  const { channels, barometric } = drive.recording;
  const rail = channels.get('fuel_rail_pressure');
  if (!rail || !(rail.rateHz > 0) || rail.values.length < 3) return undefined;
  const usual = median(rail.values);
  const floor = Math.max(30, SLIP_FLOOR_SHARE * usual);
  const out = new Set(loneSamples(rail.values, rail.rateHz, floor, 3 * floor));
  if (rail.min < READABLE[0] || rail.max > READABLE[1]) {
    for (let i = 0, n = rail.values.length; i < n; i++) {
      if (rail.values[i] < READABLE[0] || rail.values[i] > READABLE[1]) out.add(i);
    }
  }
  const keep = (_: number, i: number) => !out.has(i);
  const time = out.size > 0 ? rail.time.filter(keep) : rail.time;
  const railKpa = out.size > 0 ? rail.values.filter(keep) : rail.values;
  const manifold = alignedChannel(drive.recording, 'manifold_pressure', time);
  const manifoldKpa = manifold ?? new Float64Array(time.length).fill(Number.NaN);
  const map = channels.get('manifold_pressure');
  const periodS = (hz: number | undefined) => (hz && hz > 0 ? 1 / hz : 0);
  return {
    time,
    railKpa,
    manifoldKpa,
    differentialKpa: differentials(railKpa, manifoldKpa, outsideAirAt(drive, time)),
    targetKpa: alignedChannel(drive.recording, 'fuel_rail_pressure_target', time),
    rpm: engineSpeedAt(drive, time),
    regime: regimesAt(drive, time),
    barometricKpa: barometric.kpa,
    rateHz: rail.rateHz,
    hasManifold: manifold !== undefined,
    isDirect: usual >= DIRECT_FROM_KPA,
    halfStepKpa: rail.step / 2,
    skewS: Math.min(0.5, 0.03 + 0.25 * (periodS(rail.rateHz) + periodS(map?.rateHz))),
    leftOut: [...out].map((i) => rail.time[i]),
  };
});
