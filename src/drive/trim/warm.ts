import type { Recording } from '../../channels/recording.ts';
import { largest } from '../../signal/extremes.ts';
import { quantile } from '../../signal/quantile.ts';
import { levelAt } from './grid.ts';

/** Coolant from here on counts as warm, °C. Common practice, no source. */
const WARM_COOLANT_DEGC = 70;
/** Oil lags coolant. Common practice, no source. */
const WARM_OIL_DEGC = 60;
/** An unplugged or shorted sensor reads below this for the whole log, °C. */
const DEAD_BELOW_DEGC = -25;
/** Where no temperature is logged, an engine started within the log counts as warm after this, s. */
const UNSEEN_WARM_UP_S = 180;
/** Within this of the temperature that the log ends up at, warm-up enrichment is over, K. */
const NEAR_PLATEAU_K = 8;
const RUNNING_RPM = 350;

export interface Warmth {
  /** Per grid time, 1 where the engine is warm. */
  readonly warm: Uint8Array;
  /** Per grid time, 1 where it is also near the temperature it settles at: warm-up can no longer move the trims. */
  readonly plateau: Uint8Array;
  readonly note: string;
  /** Highest temperature seen where the engine never got warm, °C. */
  readonly neverWarmMaxDegC: number | undefined;
}

/** 1 where a temperature is at or above a mark. */
function atOrAbove(degC: Float64Array, markDegC: number): Uint8Array {
  const mask = new Uint8Array(degC.length);
  for (let i = 0, n = mask.length; i < n; i++) if (degC[i] >= markDegC) mask[i] = 1;
  return mask;
}

function byTemperature(values: Float64Array, thresholdDegC: number, name: string, shown: string): Warmth {
  const known = values.includes(Number.NaN) ? values.filter(Number.isFinite) : values;
  const top = known.length > 0 ? quantile(known, 0.95) : Number.NaN;
  const max = known.length > 0 ? largest(known) : Number.NaN;
  const plateauDegC = Math.max(thresholdDegC, top - NEAR_PLATEAU_K);
  const warm = atOrAbove(values, thresholdDegC);
  return {
    warm,
    plateau: plateauDegC === thresholdDegC ? warm : atOrAbove(values, plateauDegC),
    note: `Warm means ${name} at or above ${shown}.`,
    neverWarmMaxDegC: max < thresholdDegC ? max : undefined,
  };
}

/** Where the engine is warm: by coolant, else by oil, else by the time since it was seen to start. */
export function warmth(recording: Recording, time: Float64Array, rpm: Float64Array): Warmth {
  const coolant = recording.channels.get('coolant_temperature');
  if (coolant && coolant.values.length > 0 && coolant.max > DEAD_BELOW_DEGC) {
    return byTemperature(levelAt(coolant, time), WARM_COOLANT_DEGC, 'coolant', '70 °C');
  }
  const oil = recording.channels.get('oil_temperature');
  if (oil && oil.values.length > 0 && oil.max > DEAD_BELOW_DEGC) {
    const byOil = byTemperature(levelAt(oil, time), WARM_OIL_DEGC, 'oil', '60 °C');
    return { ...byOil, note: `Coolant temperature is not readable. ${byOil.note}` };
  }
  let startedS = Number.NaN;
  for (let i = 1, n = rpm.length; i < n; i++) {
    if (rpm[i] >= RUNNING_RPM && rpm[i - 1] < RUNNING_RPM) {
      startedS = time[i];
      break;
    }
  }
  const mask = Uint8Array.from(time, (t) => (Number.isNaN(startedS) || t >= startedS + UNSEEN_WARM_UP_S ? 1 : 0));
  const seen = Number.isNaN(startedS)
    ? 'The engine was already running when the log starts and is taken as warm.'
    : `The engine was seen to start; the first ${UNSEEN_WARM_UP_S} s after that are left out as warm-up.`;
  return {
    warm: mask,
    plateau: mask,
    note: `Coolant temperature is not readable. ${seen}`,
    neverWarmMaxDegC: undefined,
  };
}
