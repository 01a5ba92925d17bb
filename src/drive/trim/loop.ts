import type { Recording } from '../../channels/recording.ts';
import { holdAt } from '../../signal/interpolate.ts';
import { runningMedian } from '../../signal/local-level.ts';
import { alignedChannel } from '../align.ts';
import { levelAt, type TrimGrid } from './grid.ts';
import { heldOff } from './steady.ts';

/** SAE J1979 PID 03: closed loop; closed loop with at least one sensor faulty. */
const CLOSED = 2;
const CLOSED_DEGRADED = 16;
const STATUS_CODES = new Set([1, 2, 4, 8, 16]);
/** After the loop closes the trim starts from its stored value and needs this long, s. Common practice, no source. */
const SETTLES_AFTER_S = 2;

/** Inference, where the status is not logged. Common practice, no source. */
const FROZEN_S = 5;
const FROZEN_SAMPLES = 8;
const OFF_STOICHIOMETRIC = 0.06;
const SATURATED_PERCENT = 12;
const BOOST_MARGIN_KPA = 5;

export interface Loop {
  /** Per grid time, 1 where the mixture control is in closed loop. */
  readonly closed: Uint8Array;
  readonly inferred: boolean;
  readonly degraded: boolean;
  readonly note: string;
}

function byStatus(time: Float64Array, status: Float64Array): Loop {
  let degraded = false;
  const raw = new Uint8Array(status.length);
  for (let i = 0, n = raw.length; i < n; i++) {
    const code = Math.round(status[i]);
    if (code === CLOSED_DEGRADED) degraded = true;
    if (code === CLOSED || code === CLOSED_DEGRADED) raw[i] = 1;
  }
  const note = degraded
    ? 'Fuel system status reports closed loop with a faulty oxygen sensor (code 16) in places: trims there lean on the remaining sensor.'
    : 'Closed loop is taken from the fuel system status.';
  return { closed: heldOff(time, raw, SETTLES_AFTER_S), inferred: false, degraded, note };
}

/** Per grid time, 1 where the short term trim has stood exactly still for longer than a working control loop leaves it. */
function frozen(recording: Recording, time: Float64Array): Uint8Array {
  const still = new Uint8Array(time.length);
  const channel = recording.channels.get('short_term_fuel_trim_1') ?? recording.channels.get('short_term_fuel_trim_2');
  if (!channel || channel.max === channel.min || channel.values.length < 3) return still;
  const waitS = Math.max(FROZEN_S, Number.isFinite(channel.rateHz) ? FROZEN_SAMPLES / channel.rateHz : 0);
  const changes: number[] = [time[0]];
  for (let i = 1, n = channel.values.length; i < n; i++) {
    if (channel.values[i] !== channel.values[i - 1]) changes.push(channel.time[i]);
  }
  changes.push(time[time.length - 1] + 1e-6);
  for (let c = 1, i = 0, n = changes.length; c < n; c++) {
    const longStill = changes[c] - changes[c - 1] > waitS;
    for (; i < time.length && time[i] < changes[c]; i++) if (longStill) still[i] = 1;
  }
  return still;
}

/** Lambda with the swings of the control loop taken out; where it is not read it counts as unknown (NaN). */
function lambdaLevel(lambda: Float64Array, time: Float64Array): Float64Array {
  const smooth = runningMedian(
    time,
    lambda.map((value) => (Number.isNaN(value) ? 1 : value)),
    2,
  );
  return smooth.map((value, i) => (Number.isNaN(lambda[i]) ? Number.NaN : value));
}

function byInference(recording: Recording, grid: TrimGrid): Loop {
  const { time } = grid;
  const lambdaChannel = recording.channels.get('lambda');
  const lambda = lambdaChannel && lambdaLevel(levelAt(lambdaChannel, time), time);
  const target = alignedChannel(recording, 'lambda_target', time);
  const pressure = alignedChannel(recording, 'manifold_pressure', time);
  const still = frozen(recording, time);
  const closed = new Uint8Array(time.length);
  const bank = grid.banks[0];
  if (!bank) return { closed, inferred: true, degraded: false, note: 'No fuel trim is logged.' };
  const { shortTerm, total } = bank;
  for (let i = 0, n = time.length; i < n; i++) {
    const saturated = Math.abs(total[i]) >= SATURATED_PERCENT;
    const offStoichiometric = lambda !== undefined && Math.abs(lambda[i] - 1) > OFF_STOICHIOMETRIC;
    const onStoichiometric = lambda !== undefined && Math.abs(lambda[i] - 1) <= OFF_STOICHIOMETRIC / 2;
    const stopped = still[i] === 1 && !(shortTerm && Math.abs(shortTerm[i]) >= SATURATED_PERCENT);
    const open =
      (offStoichiometric && !saturated) ||
      (stopped && !onStoichiometric) ||
      (target !== undefined && target[i] < 1 - OFF_STOICHIOMETRIC) ||
      (pressure !== undefined && pressure[i] > recording.barometric.kpa + BOOST_MARGIN_KPA);
    closed[i] = open ? 0 : 1;
  }
  return {
    closed: heldOff(time, closed, SETTLES_AFTER_S),
    inferred: true,
    degraded: false,
    note: `Fuel system status is not readable: closed loop was inferred from the trims moving${lambda ? ', lambda near 1' : ''} and no full load, boost or fuel cut.`,
  };
}

/** Where the mixture control is in closed loop: by the fuel system status, else inferred from how the trims behave. */
export function closedLoop(recording: Recording, grid: TrimGrid): Loop {
  const status = recording.channels.get('fuel_system_status');
  const known = status?.values.some((code) => STATUS_CODES.has(Math.round(code)));
  if (!status || !known) return byInference(recording, grid);
  const staleS = Number.isFinite(status.rateHz) ? Math.max(30, 5 / status.rateHz) : Number.POSITIVE_INFINITY;
  return byStatus(grid.time, holdAt(status.time, status.values, grid.time, staleS));
}
