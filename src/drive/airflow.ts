import type { Build } from '../build-sheet/build.ts';
import type { ChannelId } from '../channels/catalogue.ts';
import { airMassFlowGs } from '../engine/speed-density.ts';
import { oncePer } from '../kernel/once-per.ts';
import { channelSeries } from './channel-series.ts';
import { chargeSource, cleanAt } from './charge/source.ts';
import type { Drive } from './drive.ts';

/** Air mass flow through the log, g/s, on the time base of the sensor it comes from. */
export interface Airflow {
  readonly time: Float64Array;
  readonly values: Float64Array;
  readonly rpm: Float64Array;
  readonly rateHz: number;
  readonly from: 'mass-air-flow' | 'speed-density';
  readonly note: string;
}

/** Volumetric efficiency on manifold density where the build sheet says nothing. Common practice, no source. */
const USUAL_VE = 0.9;

function meterIsAlive(drive: Drive, build: Build): boolean {
  const meter = drive.recording.channels.get('mass_air_flow');
  if (!meter || build.expect.disconnected.includes('mass_air_flow') || build.airflow === 'speed-density') return false;
  return meter.max > 5 && meter.max > 1.5 * Math.max(meter.min, 0);
}

/** Charge temperature behind the cooler where it is logged and alive, else intake temperature. */
export function chargeTemperatureId(drive: Drive): ChannelId | undefined {
  return chargeSource(drive).clean?.id;
}

/** Air mass flow by the meter if it is there and alive, else by speed-density; or the channels that are missing. */
export function airflow(drive: Drive, build: Build): Airflow | { readonly missing: readonly string[] } {
  return airflowOf(drive)(build);
}

const airflowOf = oncePer((drive: Drive) => oncePer((build: Build) => reckonAirflow(drive, build)));

function reckonAirflow(drive: Drive, build: Build): Airflow | { readonly missing: readonly string[] } {
  const meter = channelSeries(drive, 'mass_air_flow');
  if (meter && meterIsAlive(drive, build)) {
    return { ...meter, from: 'mass-air-flow', note: 'Air mass is that of the airflow meter.' };
  }
  const manifold = channelSeries(drive, 'manifold_pressure');
  const { clean, notes } = chargeSource(drive, build.expect.disconnected);
  if (!manifold || !clean) {
    return {
      missing: [
        ...(manifold ? [] : ['mass_air_flow', 'manifold_pressure']),
        ...(clean ? [] : ['charge_air_temperature', 'intake_air_temperature']),
      ],
    };
  }
  const temperature = cleanAt(drive, clean, manifold.time);
  const ve = build.engine.volumetricEfficiency ?? USUAL_VE;
  const { displacementL, strokes } = build.engine;
  const values = manifold.values.map((pressureKpaAbs, i) =>
    Number.isFinite(temperature[i] + manifold.rpm[i])
      ? airMassFlowGs({
          ve,
          displacementL,
          rpm: manifold.rpm[i],
          pressureKpaAbs,
          temperatureC: temperature[i],
          strokes,
        })
      : Number.NaN,
  );
  const veNote = build.engine.volumetricEfficiency === undefined ? ' (assumed: the build sheet gives none)' : '';
  return {
    ...manifold,
    values,
    from: 'speed-density',
    note: [
      `Air mass by speed-density: manifold pressure, ${clean.id}, volumetric efficiency ${ve}${veNote}.`,
      ...notes,
    ].join(' '),
  };
}
