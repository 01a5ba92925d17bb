import type { Build } from '../build-sheet/build.ts';
import type { Recording } from '../channels/recording.ts';
import { groupThousands } from '../kernel/format-number.ts';
import { UserError } from '../kernel/user-error.ts';

/** An engine with a working limiter passes its redline by a slip of the lever, for a moment: not by this share for this long. */
const BEYOND = 1.1;
const FOR_S = 2;
/** A sample speaks for no longer than this, s. */
const HOLDS_S = 1;

/** Refuses a build sheet whose redline the log runs past for seconds: every verdict about the top of the engine would be wrong. */
export function refuseWrongRedline(build: Build, { channels }: Recording, buildName: string): void {
  const speed = channels.get('engine_speed');
  const mark = build.engine.redlineRpm * BEYOND;
  if (!speed || speed.max <= mark) return;
  const { time, values } = speed;
  let beyondS = 0;
  for (let i = 1; i < values.length; i++) {
    if (values[i] > mark && values[i - 1] > mark) beyondS += Math.min(HOLDS_S, time[i] - time[i - 1]);
  }
  if (beyondS < FOR_S) return;
  throw new UserError(
    `the redline is ${groupThousands(build.engine.redlineRpm)} rpm, and the engine ran ${beyondS.toFixed(0)} s beyond it, up to ${groupThousands(speed.max)} rpm.`,
    `${buildName}, engine.redline`,
    'Correct the redline, or check column and unit of engine_speed in the mapping.',
  );
}
