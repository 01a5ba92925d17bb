import type { Build } from '../../build-sheet/build.ts';
import type { ChannelId } from '../../channels/catalogue.ts';
import { airMassFlowGs } from '../../engine/speed-density.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { median } from '../../signal/median.ts';
import { rateOfChange } from '../../signal/rate-of-change.ts';
import { alignedChannel } from '../align.ts';
import { engineSpeedAt } from '../channel-series.ts';
import { chargeSource, cleanAt } from '../charge/source.ts';
import { type Drive, REGIME_CODE } from '../drive.ts';
import { regimesAt } from '../regime-at.ts';
import { isThrottled } from './activity.ts';
import { deadClause } from './dead.ts';
import { type Check, channelName } from './doubt.ts';

/** Volumetric efficiency on manifold density that engines have at load. Common practice, no source. */
const LEAST_VE = 0.6;
const MOST_VE = 1.3;
const LEAST_UPDATES = 8;
const LEAST_RPM = 1200;
/** Below this share of the air pressure residual gas and valve overlap make the figure meaningless. */
const LOADED_SHARE = 0.6;
/** Manifold pressure that moves faster is a filling manifold, share of its value per second. */
const STEADY_SHARE_PER_S = 0.3;

/** The airflow meter against displacement × engine speed × charge density: their quotient is the volumetric efficiency. */
export function meterAgainstManifold(drive: Drive, build: Build, isSkipped: (id: ChannelId) => boolean): Check {
  const nothing: Check = { checked: [], doubts: [] };
  const { channels, barometric } = drive.recording;
  const meter = channels.get('mass_air_flow');
  const manifold = channels.get('manifold_pressure');
  const { clean } = chargeSource(drive, build.expect.disconnected);
  if (!meter || !manifold || !clean || !channels.has('engine_speed')) return nothing;
  if (isSkipped(meter.id) || isSkipped(manifold.id) || isSkipped(clean.id)) return nothing;
  if (deadClause(drive, meter) !== undefined) return nothing;
  const { time } = meter;
  const pressure = alignedChannel(drive.recording, 'manifold_pressure', time) as Float64Array;
  const temperature = cleanAt(drive, clean, time);
  const rpm = engineSpeedAt(drive, time);
  const rate = rateOfChange(time, pressure, 0.4);
  const throttled = isThrottled(drive) === true;
  const loadedKpa = LOADED_SHARE * barometric.kpa;
  const { displacementL, strokes } = build.engine;
  const regimes = regimesAt(drive, time);
  const quotients: number[] = [];
  let [startS, endS] = [Number.NaN, Number.NaN];
  for (let i = 0, n = time.length; i < n; i++) {
    if (regimes[i] !== REGIME_CODE.pull && !(throttled && regimes[i] === REGIME_CODE.cruise)) continue;
    if (!(pressure[i] > loadedKpa) || !(rpm[i] > LEAST_RPM) || !(temperature[i] > -30)) continue;
    if (!(Math.abs(rate[i]) < STEADY_SHARE_PER_S * pressure[i])) continue;
    const atOne = airMassFlowGs({
      ve: 1,
      displacementL,
      rpm: rpm[i],
      pressureKpaAbs: pressure[i],
      temperatureC: temperature[i],
      strokes,
    });
    quotients.push(meter.values[i] / atOne);
    if (Number.isNaN(startS)) startS = time[i];
    endS = time[i];
  }
  if (quotients.length < LEAST_UPDATES) return nothing;
  const ve = median(quotients);
  const checked = ['mass air flow and manifold pressure'];
  if (ve >= LEAST_VE && ve <= MOST_VE) return { checked, doubts: [] };
  const isUnused = build.airflow === 'speed-density';
  return {
    checked,
    doubts: [
      {
        gravity: isUnused ? 'tell' : 'warn',
        channels: ['mass_air_flow', 'manifold_pressure'],
        short: 'mass air flow and manifold pressure differ',
        said: [
          `At load the meter shows ${ve.toFixed(2)} times the air that ${formatQuantity(displacementL, 'L')}, engine speed, manifold pressure and ${channelName(clean.id)} give at full filling (median of ${quotients.length} readings). Engines lie between ${LEAST_VE} and ${MOST_VE}, so one of these is wrong, or air passes by the meter.${isUnused ? ' This calibration runs without the meter, so nothing is judged by it.' : ''}`,
        ],
        where: [{ startS, endS }],
        measured: { value: ve, unit: 'ratio', mark: ve < LEAST_VE ? LEAST_VE : MOST_VE },
        next: isUnused
          ? []
          : [
              'Check the unit of mass air flow, gauge or absolute of manifold pressure, and the displacement on the build sheet.',
              'Look for air that passes by the meter, then check the meter and its curve.',
            ],
      },
    ],
  };
}
