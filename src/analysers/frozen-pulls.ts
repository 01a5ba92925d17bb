import { channelEntry } from '../channels/catalogue.ts';
import type { Drive, Pull } from '../drive/drive.ts';
import { channelName } from '../drive/health/doubt.ts';
import { saturationIn } from '../drive/health/end-in-pull.ts';
import { frozenStretch, type LivelyId } from '../drive/health/frozen.ts';
import { formatQuantity } from '../kernel/format-number.ts';

/** Pulls that can be judged by some channels, and a sentence for each that cannot because one of them froze in it. */
export interface LivePulls<P> {
  readonly pulls: readonly P[];
  readonly said: readonly string[];
}

/** Why a pull is not judged by a channel that stopped in it, in a clause; nothing where it lives. */
export function frozenClause(drive: Drive, id: LivelyId, pull: Pull): string | undefined {
  const run = frozenStretch(drive, id, pull);
  return (
    run &&
    `${channelName(id)} read ${formatQuantity(run.value, channelEntry(id).unit)} without any change from ${formatQuantity(run.startS, 's')} to ${formatQuantity(run.endS, 's')} while engine speed went on rising (see sensor-health)`
  );
}

/** The same where a channel froze, or lay at the end of what it can show: for what a reading too low would flatter. */
export function brokenClause(drive: Drive, id: LivelyId, pull: Pull): string | undefined {
  const ended = saturationIn(drive, id, pull);
  return (
    frozenClause(drive, id, pull) ??
    (ended &&
      `${channelName(id)} lay at the end of what it can show, ${formatQuantity(ended.level, channelEntry(id).unit)}, from ${formatQuantity(ended.startS, 's')} to ${formatQuantity(ended.endS, 's')} (see sensor-health)`)
  );
}

/** Takes out the pulls in which one of the channels froze, or what else a clause tells. */
export function livePulls<P>(
  drive: Drive,
  pulls: readonly P[],
  ids: readonly LivelyId[],
  pullOf: (one: P) => Pull,
  clauseOf = frozenClause,
): LivePulls<P> {
  const live: P[] = [];
  const said: string[] = [];
  for (const one of pulls) {
    const pull = pullOf(one);
    const clause = ids.map((id) => clauseOf(drive, id, pull)).find((found) => found !== undefined);
    if (clause === undefined) live.push(one);
    else said.push(`Pull ${pull.id} is not judged: ${clause}.`);
  }
  return { pulls: live, said };
}

/** What to do where no pull is left. */
export const FROZEN_NEXT =
  'Repeat the pull, and check plug and wiring of the channel that froze and how the logger asks for it.';
