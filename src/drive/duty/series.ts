import type { Build } from '../../build-sheet/build.ts';
import { channelEntry } from '../../channels/catalogue.ts';
import type { Channel } from '../../channels/recording.ts';
import { injectorDutyPercent } from '../../engine/injector-duty.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { loneSamples } from '../../signal/lone-samples.ts';
import { channelSeries, engineSpeedAt } from '../channel-series.ts';
import type { Drive, Series } from '../drive.ts';
import { believableSpeeds } from '../engine-speed-slips.ts';
import { noiseInPulls } from '../noise-in-pulls.ts';

export type DutySource = 'pulse-width' | 'logged' | 'modelled';

/** A sample left out: far from both its neighbours. */
export interface DutyGlitch {
  readonly timeS: number;
  readonly dutyPercent: number;
}

/** Injector duty over the whole log, %, with what is uncertain about it. */
export interface Duty {
  readonly source: DutySource;
  /** Lone slips are already left out. */
  readonly series: Series;
  readonly glitches: readonly DutyGlitch[];
  /** How far apart in time the parts of one value may be, s. */
  readonly skewS: number;
  /** Half a step of the logged number, % duty. */
  readonly halfStepPercent: number;
  /** One sigma of sample noise, % duty. */
  readonly noisePercent: number;
  /** Share of the value that a model may be off by (about 95 %), 0 for a logged value. */
  readonly modelShare: number;
}

/** Nothing that injects is commanded beyond this; more is bad data or a wrong setting. */
export const BELIEVABLE_DUTY_PERCENT = channelEntry('injector_duty').plausible[1];

const GLITCH_FLOOR_PERCENT = 8;
const GLITCH_CAP_PERCENT = 25;
/** Below this rate a pull's first and last sample have no neighbour that could call them a slip. */
const EDGES_JUDGED_FROM_HZ = 5;

function kept(series: Series, keep: Uint8Array): Series {
  let n = 0;
  for (let i = 0, end = keep.length; i < end; i++) n += keep[i];
  if (n === keep.length) return series;
  const [time, values, rpm] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  for (let i = 0, k = 0, end = keep.length; i < end; i++) {
    if (keep[i] === 0) continue;
    time[k] = series.time[i];
    values[k] = series.values[i];
    rpm[k++] = series.rpm[i];
  }
  return { ...series, time, values, rpm };
}

const oneEdgeOutside = (drive: Drive, { time }: Series, i: number) =>
  drive.pulls.some(
    ({ startS, endS }) => time[i] >= startS && time[i] <= endS && (time[i - 1] < startS || time[i + 1] > endS),
  );

/** Leaves out samples without engine speed, then lone slips. */
function cleaned(drive: Drive, raw: Series): { series: Series; glitches: DutyGlitch[] } {
  const known = new Uint8Array(raw.time.length);
  for (let i = 0, end = known.length; i < end; i++) known[i] = Number.isFinite(raw.values[i] + raw.rpm[i]) ? 1 : 0;
  const series = kept(raw, known);
  const slips = loneSamples(series.values, series.rateHz, GLITCH_FLOOR_PERCENT, GLITCH_CAP_PERCENT).filter(
    (i) =>
      series.rateHz >= EDGES_JUDGED_FROM_HZ ||
      series.values[i] > BELIEVABLE_DUTY_PERCENT ||
      !oneEdgeOutside(drive, series, i),
  );
  const glitches = slips.map((i) => ({ timeS: series.time[i], dutyPercent: series.values[i] }));
  if (slips.length === 0) return { series, glitches };
  const good = new Uint8Array(series.time.length).fill(1);
  for (const i of slips) good[i] = 0;
  return { series: kept(series, good), glitches };
}

/** Half a step, %; a channel with hardly any distinct values tells nothing of its step. */
const halfStep = (stepPercent: number) => Math.min(1, stepPercent / 2);

const periodS = (channel: Channel | undefined) => (channel && channel.rateHz > 0 ? 1 / channel.rateHz : 0);

/** Puts a raw duty series into shape: slips out, noise measured. */
export function dutyFrom(
  drive: Drive,
  source: DutySource,
  raw: Series,
  about: { readonly skewS: number; readonly halfStepPercent: number; readonly modelShare: number },
): Duty | undefined {
  const { series, glitches } = cleaned(drive, raw);
  if (series.time.length === 0) return undefined;
  const noisePercent = noiseInPulls(drive, series);
  return { source, series, glitches, noisePercent, ...about };
}

/** Duty = pulse width × engine speed / 1200 × pulses per cycle (four-stroke), engine speed interpolated at the pulse width's own times. */
export function computedDuty(drive: Drive, build: Build): Duty | undefined {
  return computedDutyOf(drive)(build);
}

const computedDutyOf = oncePer((drive: Drive) => oncePer((build: Build) => computeDuty(drive, build)));

function computeDuty(drive: Drive, build: Build): Duty | undefined {
  const pulse = drive.recording.channels.get('injector_pulse_width');
  const speed = drive.recording.channels.get('engine_speed');
  if (!pulse || !speed) return undefined;
  const { strokes, redlineRpm } = build.engine;
  const perCycle = build.injectors.pulsesPerCycle;
  const rpm = engineSpeedAt(drive, pulse.time);
  const values = new Float64Array(rpm.length);
  const highestRpm = believableSpeeds(redlineRpm)[1];
  for (let i = 0, end = rpm.length; i < end; i++) {
    values[i] = rpm[i] <= highestRpm ? injectorDutyPercent(pulse.values[i], rpm[i], perCycle, strokes) : Number.NaN;
  }
  return dutyFrom(
    drive,
    'pulse-width',
    { time: pulse.time, values, rpm, rateHz: pulse.rateHz },
    {
      skewS: Math.min(0.5, 0.5 * Math.max(periodS(pulse), periodS(speed))),
      halfStepPercent: halfStep(injectorDutyPercent(pulse.step, redlineRpm, perCycle, strokes)),
      modelShare: 0,
    },
  );
}

/** Duty as the controller logged it. */
export function loggedDuty(drive: Drive): Duty | undefined {
  const raw = channelSeries(drive, 'injector_duty');
  const channel = drive.recording.channels.get('injector_duty');
  if (!raw || !channel) return undefined;
  const rpm = engineSpeedAt(drive, raw.time);
  return dutyFrom(
    drive,
    'logged',
    { ...raw, rpm },
    { skewS: 0, halfStepPercent: halfStep(channel.step), modelShare: 0 },
  );
}
