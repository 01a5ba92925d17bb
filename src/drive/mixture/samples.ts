import { oncePer } from '../../kernel/once-per.ts';
import { interpolateAt } from '../../signal/interpolate.ts';
import { loneSamples } from '../../signal/lone-samples.ts';
import { runsWhere } from '../../signal/runs.ts';
import { gaugeBoost } from '../boost/gauge-boost.ts';
import { engineSpeedAt } from '../channel-series.ts';
import type { Drive, Pull } from '../drive.ts';
import { indexAtOrAfter, pullSeries } from '../pull-series.ts';
import type { LambdaLag } from './lag.ts';

/** Mixture readings that belong to one pull, with what the engine did when their gas was burnt. */
export interface MixtureSamples {
  /** When the reading was logged, s. */
  readonly time: Float64Array;
  readonly lambda: Float64Array;
  /** When the gas was burnt: `time` less the lag, kept inside the pull. */
  readonly burntS: Float64Array;
  readonly rpm: Float64Array;
  /** Gauge boost, kPa; NaN where not logged. */
  readonly boost: Float64Array;
  /** Whether fuel was cut, or had been until so shortly before that the sensor still shows it. */
  readonly isCut: (i: number) => boolean;
}

const SLIP_FLOOR = 0.08;
const SLIP_CAP = 0.3;
/** A reading beyond these is no mixture. */
const READABLE = [0.5, 2.5] as const;

interface CleanLambda {
  readonly time: Float64Array;
  readonly values: Float64Array;
  readonly rateHz: number;
  /** Times of readings left out: far from both neighbours, or no mixture at all. */
  readonly leftOut: readonly number[];
}

/** Lambda with its slips left out. */
export const cleanLambda = oncePer((drive: Drive): CleanLambda | undefined => {
  const channel = drive.recording.channels.get('lambda');
  if (!channel || !(channel.rateHz > 0)) return undefined;
  const { time, values, rateHz } = channel;
  const out = new Set(loneSamples(values, rateHz, SLIP_FLOOR, SLIP_CAP));
  if (channel.min < READABLE[0] || channel.max > READABLE[1]) {
    for (let i = 0, n = values.length; i < n; i++) if (values[i] < READABLE[0] || values[i] > READABLE[1]) out.add(i);
  }
  if (out.size === 0) return { time, values, rateHz, leftOut: [] };
  const keep = (_: number, i: number) => !out.has(i);
  return { time: time.filter(keep), values: values.filter(keep), rateHz, leftOut: [...out].map((i) => time[i]) };
});

/** A pulse this short against the usual one of the pull feeds nothing. */
const CUT_SHARE = 0.25;

/** Stretches inside a pull without injection, s. */
export function fuelCuts(drive: Drive, pull: Pull): { startS: number; endS: number }[] {
  for (const id of ['injector_pulse_width', 'injector_duty'] as const) {
    const injection = pullSeries(drive, pull, id);
    if (!injection || injection.time.length < 3) continue;
    const { time, values } = injection;
    const usual = [...values].sort((a, b) => a - b)[Math.floor(0.7 * values.length)];
    return runsWhere(time.length, (i) => values[i] < CUT_SHARE * usual).map(({ start, end }) => ({
      startS: time[Math.max(0, start - 1)],
      endS: time[Math.min(end, time.length - 1)],
    }));
  }
  return [];
}

/** The readings of one pull: from its start to its end, and as far behind it as the transport delay surely reaches. */
export function mixtureSamples(drive: Drive, pull: Pull, lag: LambdaLag): MixtureSamples | undefined {
  const clean = cleanLambda(drive);
  if (!clean) return undefined;
  const lateS = Math.max(0, lag.deadS - lag.spreadS);
  const from = indexAtOrAfter(clean.time, pull.startS - 1e-9);
  const to = indexAtOrAfter(clean.time, pull.endS + lateS + 1e-9);
  const time = clean.time.subarray(from, to);
  const burntS = time.map((t) => Math.min(pull.endS, Math.max(pull.startS, t - lag.deadS - lag.tauS)));
  const boost = gaugeBoost(drive);
  const gapS = boost && boost.rateHz > 0 ? Math.max(1, 3 / boost.rateHz) : 1;
  const cuts = fuelCuts(drive, pull);
  const recoveryS = lag.deadS + 4 * lag.tauS + lag.spreadS;
  return {
    time,
    lambda: clean.values.subarray(from, to),
    burntS,
    rpm: engineSpeedAt(drive, burntS),
    boost: boost
      ? interpolateAt(boost.time, boost.values, burntS, gapS)
      : new Float64Array(time.length).fill(Number.NaN),
    isCut: (i) => cuts.some(({ startS, endS }) => time[i] >= startS && time[i] <= endS + recoveryS),
  };
}
