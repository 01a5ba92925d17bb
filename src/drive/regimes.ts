import type { Build } from '../build-sheet/build.ts';
import type { Recording } from '../channels/recording.ts';
import { quantile } from '../signal/quantile.ts';
import { rateOfChange } from '../signal/rate-of-change.ts';
import { alignedChannel } from './align.ts';
import { type Pull, REGIME_CODE, type Regime } from './drive.ts';
import { findGearChanges } from './gear-changes.ts';
import { idleSpeedRpm } from './idle-speed.ts';
import { indexAtOrAfter } from './pull-series.ts';

/** Marks of the regimes. Common practice, no source. */
const ENGINE_OFF_RPM = 150;
const STANDING_KMH = 3;
const CLOSED_ABOVE_REST = 3;
const OVERRUN_ABOVE_IDLE_RPM = 400;
const UNSTEADY_OPENING_PER_S = 15;
const UNSTEADY_RPM_PER_S = 250;
const LIFT_PER_S = -60;
const LIFT_LASTS_S = 1;
const CHANGE_SETTLES_S = 0.4;
const HALF_WINDOW_S = 0.3;

function fill(regime: Uint8Array, time: Float64Array, startS: number, endS: number, value: Regime): void {
  for (let i = indexAtOrAfter(time, startS); i < time.length && time[i] <= endS; i++) regime[i] = REGIME_CODE[value];
}

/** Opening of pedal or throttle, whichever is logged; nothing where neither is. */
function openingOf(recording: Recording, time: Float64Array): Float64Array | undefined {
  return (
    alignedChannel(recording, 'accelerator_position', time) ?? alignedChannel(recording, 'throttle_position', time)
  );
}

/** A pedal or throttle below this is released, whatever the engine does, %. */
const SURELY_RELEASED = 5;

/**
 * Opening that pedal or throttle comes back to, %: what it reads at idle, else its lowest where that is near zero. A log
 * that never came off the throttle shows none, and nothing in it counts as released.
 */
function openingAtRest(opening: Float64Array, rpm: Float64Array, idleRpm: number): number {
  const logged = opening.filter(Number.isFinite);
  if (logged.length === 0) return Number.NEGATIVE_INFINITY;
  const atIdle = opening.filter((value, i) => Number.isFinite(value) && rpm[i] < 1.3 * idleRpm);
  const lowest = quantile(logged, 0.02);
  if (atIdle.length > 0) return Math.max(lowest, Math.min(quantile(atIdle, 0.25), lowest + CLOSED_ABOVE_REST));
  return lowest <= SURELY_RELEASED ? lowest : Number.NEGATIVE_INFINITY;
}

/** Per base sample, what the car was doing. Pulls, gear changes and lifts overrule the rest. */
export function labelRegimes(
  recording: Recording,
  build: Build,
  pulls: readonly Pull[],
  time: Float64Array,
  rpm: Float64Array,
): Uint8Array {
  const regime = new Uint8Array(time.length).fill(REGIME_CODE.cruise);
  if (time.length === 0) return regime;
  const idleRpm = idleSpeedRpm(build, rpm);
  const opening = openingOf(recording, time);
  const speed = alignedChannel(recording, 'vehicle_speed', time);
  const pressure = alignedChannel(recording, 'manifold_pressure', time);
  const restOpening = opening ? openingAtRest(opening, rpm, idleRpm) : 0;
  const closed = (i: number) =>
    opening
      ? opening[i] <= restOpening + CLOSED_ABOVE_REST
      : pressure
        ? pressure[i] < 0.4 * recording.barometric.kpa
        : false;
  const loaded = (i: number) =>
    opening
      ? opening[i] > restOpening + 2 * CLOSED_ABOVE_REST
      : pressure
        ? pressure[i] > 0.6 * recording.barometric.kpa
        : true;
  const rpmRate = rateOfChange(time, rpm, HALF_WINDOW_S);
  const openingRate = opening && rateOfChange(time, opening, HALF_WINDOW_S);

  for (let i = 0, n = time.length; i < n; i++) {
    const standing = speed ? !(speed[i] > STANDING_KMH) : true;
    if (rpm[i] < ENGINE_OFF_RPM) regime[i] = REGIME_CODE['engine-off'];
    else if (closed(i) && rpm[i] > idleRpm + OVERRUN_ABOVE_IDLE_RPM && !(rpmRate[i] > UNSTEADY_RPM_PER_S)) {
      regime[i] = REGIME_CODE['fuel-cut'];
    } else if (
      Math.abs(rpmRate[i]) > UNSTEADY_RPM_PER_S ||
      (openingRate !== undefined && Math.abs(openingRate[i]) > UNSTEADY_OPENING_PER_S)
    ) {
      regime[i] = REGIME_CODE.transient;
    } else if (standing && rpm[i] < 1.5 * idleRpm + 50 && !(opening && !closed(i) && speed === undefined)) {
      regime[i] = REGIME_CODE.idle;
    }
  }
  for (let i = 1, n = time.length; i < n; i++) {
    if (openingRate !== undefined && openingRate[i] < LIFT_PER_S && openingRate[i - 1] >= LIFT_PER_S) {
      fill(regime, time, time[i] - HALF_WINDOW_S, time[i] + LIFT_LASTS_S, 'lift');
    }
  }
  for (const change of findGearChanges(time, rpm, loaded)) {
    fill(regime, time, time[change.start], time[change.end] + CHANGE_SETTLES_S, 'gear-change');
  }
  for (const pull of pulls) fill(regime, time, pull.startS, pull.endS, 'pull');
  return regime;
}
