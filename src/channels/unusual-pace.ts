import { UserError } from '../kernel/user-error.ts';
import { rowIntervalS } from '../signal/row-interval.ts';
import { SECONDS_PER } from './clock.ts';
import type { TimeUnit } from './mapping-schema.ts';

/** Loggers write between this few and this many seconds a row; outside, the unit of time is wrong. */
const USUAL_PACE_S = [0.0005, 5] as const;
/** Rows that come faster than this are rare, and a log of them that is over at once is one in another unit. */
const RARE_PACE_S = 0.002;
const SHORTEST_LOG_S = 5;
/** Paces that hardly need a second look, s. */
const LIKELY_PACE_S = [0.004, 2] as const;

/** Fewer rows prove nothing. */
const FEWEST_ROWS = 10;

/** Units that a plain number may be in, the likelier first. */
const PLAIN_UNITS = ['s', 'ms', 'us', 'min'] as const satisfies readonly TimeUnit[];

/**
 * A note where rows lie unusually far apart. Where a column of plain numbers puts them so far apart or so close together that no drive can
 * be in it, a UserError: judged all the same, nothing would be found, and that would read as nothing wrong.
 */
export function unusualPace(time: Float64Array, unit: TimeUnit, shownColumn: string): string | undefined {
  const paceS = rowIntervalS(time);
  if (Number.isNaN(paceS)) return undefined;
  const isOver = paceS < RARE_PACE_S && time.length > 2 && time[time.length - 1] - time[0] < SHORTEST_LOG_S;
  if (paceS >= USUAL_PACE_S[0] && paceS <= USUAL_PACE_S[1] && !isOver) return undefined;
  const far = `${Number(paceS.toPrecision(3))} s apart`;
  const other = unitThatFits(paceS / SECONDS_PER[unit], unit);
  if (unit === 'clock' || unit === 'iso8601' || other === undefined || time.length < FEWEST_ROWS) {
    return `Rows lie ${far}, which is unusual; check the unit of time in the mapping.`;
  }
  throw new UserError(
    `the time column ${shownColumn}, read in ${unit}, puts the rows ${far}, which is no log of a drive.`,
    'mapping, time.unit',
    `If it counts ${other}, write "unit": "${other}" in "time"; else name the column that holds the time.`,
  );
}

/** A clock that starts again more often than this, and steps back in more than this share of its rows, is none. */
const MOST_STARTS = 10;
const MOST_BACK = 0.2;

/** Refuses a column that counts no time, such as a temperature named as the time by mistake. `stretches`: how often it started again. */
export function refuseNoClock(raw: Float64Array, stretches: number, shownColumn: string): void {
  if (stretches <= MOST_STARTS) return;
  let back = 0;
  for (let i = 1, n = raw.length; i < n; i++) if (raw[i] < raw[i - 1]) back++;
  if (back <= MOST_BACK * raw.length) return;
  throw new UserError(
    `the time column ${shownColumn} goes back in ${back} of ${raw.length} rows, which no clock does.`,
    'mapping, time.column',
    'Name the column that holds the time of each row.',
  );
}

/** The unit in which a step of the time column would be a usual one. */
function unitThatFits(step: number, but: TimeUnit): TimeUnit | undefined {
  return PLAIN_UNITS.find((unit) => {
    const paceS = step * SECONDS_PER[unit];
    return unit !== but && paceS >= LIKELY_PACE_S[0] && paceS <= LIKELY_PACE_S[1];
  });
}
