import type { Column } from '../read/table.ts';
import type { ChannelId } from './catalogue.ts';
import { isStatusLike } from './channel-kind.ts';
import { channelByName } from './guess-name.ts';
import { headerUnit } from './header-unit.ts';
import type { ChannelSource } from './mapping-schema.ts';

/** A column that may be a channel. */
export interface Candidate {
  readonly channel: ChannelId;
  readonly column: Column;
  /** 0…1 */
  readonly confidence: number;
  readonly why: string;
  readonly source: ChannelSource;
}

/** Something that only a person can tell. */
export interface Question {
  readonly column: string;
  /** What it looks like, where it looks like anything. */
  readonly channel: ChannelId | undefined;
  /** 0…1 */
  readonly confidence: number;
  readonly ask: string;
}

const WITH_UNIT = 0.04;
const WITHOUT_UNIT = 0.1;

function candidateOf(column: Column, own: Column | undefined): Candidate | Question | undefined {
  const found = channelByName(column.name);
  if (!found) return undefined;
  const unit = headerUnit(found.id, column);
  if (unit && 'wrong' in unit) {
    const ask = `"${column.name}" is called like ${found.id}, but ${unit.wrong} is no unit of it; ${found.id} is left out.`;
    return { column: column.name, channel: found.id, confidence: 0.1, ask };
  }
  const needsUnit = !isStatusLike(found.id);
  const confidence = unit
    ? Math.min(1, found.confidence + WITH_UNIT)
    : found.confidence - (needsUnit ? WITHOUT_UNIT : 0.05);
  return {
    channel: found.id,
    column,
    confidence: Number(confidence.toFixed(2)),
    why: unit ? `its name, and the header says ${unit.text}` : 'its name',
    source: { column: column.name, ...(own && { time: own.name }) },
  };
}

export interface Candidates {
  /** One for each channel, the surest. */
  readonly chosen: ReadonlyMap<ChannelId, Candidate>;
  readonly questions: readonly Question[];
  /** Equally good columns for one channel, each one sentence. */
  readonly notes: readonly string[];
  readonly unmatched: readonly Column[];
}

/** What the columns may be by their names. */
export function candidatesOf(columns: readonly Column[], ownTimes: ReadonlyMap<string, Column>): Candidates {
  const questions: Question[] = [];
  const notes: string[] = [];
  const unmatched: Column[] = [];
  const found: Candidate[] = [];
  for (const column of columns) {
    const candidate = candidateOf(column, ownTimes.get(column.name));
    if (!candidate) unmatched.push(column);
    else if ('ask' in candidate) questions.push(candidate);
    else found.push(candidate);
  }
  const chosen = new Map<ChannelId, Candidate>();
  for (const candidate of found.sort((a, b) => b.confidence - a.confidence)) {
    const { channel, column, confidence } = candidate;
    const taken = chosen.get(channel);
    if (!taken) {
      chosen.set(channel, candidate);
      continue;
    }
    const both = `Both "${taken.column.name}" and "${column.name}" look like ${channel}; the ${confidence === taken.confidence ? 'first' : 'surer one'} is used.`;
    if (confidence === taken.confidence) notes.push(both);
    questions.push({ column: column.name, channel, confidence, ask: both });
  }
  return { chosen, questions, notes, unmatched };
}
