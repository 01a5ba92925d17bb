import type { Build } from '../../build-sheet/build.ts';
import { formatQuantity } from '../../kernel/format-number.ts';
import { oncePer } from '../../kernel/once-per.ts';
import { median } from '../../signal/median.ts';
import type { Drive } from '../drive.ts';
import { pullSeries } from '../pull-series.ts';
import type { LambdaLag } from './lag.ts';
import { laggedResponse } from './response.ts';

/** The mixture asked for, as the sensor would have shown it. */
export interface MixtureTarget {
  readonly from: 'lambda_target' | 'build sheet';
  /** Expected reading at the given times (ascending), and how far a wrong lag could move it. */
  readonly expectedAt: (time: Float64Array) => { expected: Float64Array; unsure: Float64Array };
  /** Half a step of the logged number. */
  readonly halfStep: number;
  readonly note: string;
}

/** A target that never moves by this much in the whole log may not be a target at all. */
const STANDS_STILL = 0.005;
const DIFFERS = 0.03;
const BELIEVABLE = [0.6, 1.15] as const;

/** Typical logged target in the pulls; undefined where the column is no full-load target. */
export const loggedTarget = oncePer((drive: Drive): number | undefined => {
  const values = drive.pulls.flatMap((pull) => Array.from(pullSeries(drive, pull, 'lambda_target')?.values ?? []));
  const level = values.length > 0 ? median(values) : Number.NaN;
  return level >= BELIEVABLE[0] && level <= BELIEVABLE[1] ? level : undefined;
});

/** Target of the controller where it is logged and can be one, else the build sheet's full-load lambda. */
export function mixtureTarget(drive: Drive, build: Build, lag: LambdaLag): MixtureTarget | undefined {
  const channel = drive.recording.channels.get('lambda_target');
  const level = loggedTarget(drive);
  const sheet = build.fullLoadLambda;
  const ratio = (value: number) => formatQuantity(value, 'ratio');
  const isStill = channel !== undefined && channel.max - channel.min < STANDS_STILL;
  const isDoubtful = isStill && sheet !== undefined && level !== undefined && level - sheet >= DIFFERS;
  if (channel && level !== undefined && !isDoubtful) {
    const { time, values } = channel;
    const late = lag.spreadS;
    return {
      from: 'lambda_target',
      halfStep: channel.step < 0.02 ? channel.step / 2 : 0,
      note: `The target is the logged one, ${ratio(level)} in the pulls${isStill ? ' (it never moves in this log)' : ''}.`,
      expectedAt: (at) => {
        const shifted = (by: number) => laggedResponse(time, values, at, lag.deadS + by, lag.tauS);
        const expected = shifted(0);
        const [early, tardy] = [shifted(-Math.min(late, lag.deadS + 0.5 * lag.tauS)), shifted(late)];
        const unsure = expected.map((x, i) => Math.max(Math.abs(early[i] - x), Math.abs(tardy[i] - x)));
        return { expected, unsure };
      },
    };
  }
  if (sheet === undefined) return undefined;
  const why = isDoubtful
    ? ` The logged target stands at ${ratio(level as number)} through the whole log, so it is not taken for one.`
    : channel
      ? ' The logged target is outside what a full-load target can be, so it is not used.'
      : '';
  return {
    from: 'build sheet',
    halfStep: 0,
    note: `The target is the build sheet's full-load lambda ${ratio(sheet)}.${why}`,
    expectedAt: (at) => ({
      expected: new Float64Array(at.length).fill(sheet),
      unsure: new Float64Array(at.length),
    }),
  };
}
