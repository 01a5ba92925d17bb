import { UserError } from '../kernel/user-error.ts';
import type { Column, Table } from '../read/table.ts';
import type { ChannelId } from './catalogue.ts';
import { dimensionOfChannel } from './channel-kind.ts';
import { GUESS_RULES, KNOCK_BY_CYLINDER, OTHER_WORDS, TARGET_OF, TARGET_WORDS } from './guess-terms.ts';
import { foldedName, guessTime } from './guess-time.ts';
import { settleUnit } from './guess-unit.ts';
import { headerUnit, referenceByName, wordsOf } from './header-unit.ts';
import type { ChannelSource, Mapping } from './mapping-schema.ts';
import { draftsOf } from './normalise.ts';
import { isPersonalColumn } from './personal-column.ts';
import { referenceByData } from './pressure-reference.ts';
import { sampleOf } from './to-canonical.ts';

export interface Guess {
  readonly channel: ChannelId | 'time';
  readonly column: string;
  /** 0…1 */
  readonly confidence: number;
  readonly why: string;
}

export interface GuessedMapping {
  readonly mapping: Mapping;
  readonly guesses: readonly Guess[];
  /** What was left out or assumed, each one sentence. */
  readonly notes: readonly string[];
}

/** The channel a folded name stands for and how sure that is. */
function channelByWords(folded: string): { id: ChannelId; confidence: number } | undefined {
  const cylinder = KNOCK_BY_CYLINDER.exec(folded);
  const number = Number(cylinder?.[1] ?? cylinder?.[2] ?? 0);
  if (number >= 1 && number <= 12) return { id: `knock_retard_${number}` as ChannelId, confidence: 0.9 };
  const best = surest(folded);
  if (best) return best;
  if (!TARGET_WORDS.test(folded)) return undefined;
  const wished = surest(folded.replace(TARGET_WORDS, ' ').replace(/\s+/g, ' ').trim());
  const target = wished && TARGET_OF[wished.id];
  return target && { id: target, confidence: wished.confidence };
}

function surest(folded: string): { id: ChannelId; confidence: number } | undefined {
  const matches = GUESS_RULES.filter((rule) => rule.pattern.test(folded));
  return matches.sort((a, b) => b.confidence - a.confidence)[0];
}

/** By the whole name, else by the name without its unit. */
const channelByName = (name: string) => channelByWords(wordsOf(name).join(' ')) ?? channelByWords(foldedName(name));

interface Candidate extends Guess {
  readonly channel: ChannelId;
  readonly source: ChannelSource;
}

function candidateOf(column: Column): Candidate | undefined {
  const found = channelByName(column.name);
  if (!found) return undefined;
  const isVolts = dimensionOfChannel(found.id) === 'voltage';
  if (!isVolts && OTHER_WORDS.test(foldedName(column.name))) return undefined;
  const unit = headerUnit(found.id, column);
  if (unit && 'wrong' in unit) return undefined;
  const confidence = unit ? Math.min(1, found.confidence + 0.04) : found.confidence - 0.1;
  const why = unit ? `its name, and the header says ${unit.text}` : 'its name';
  return { channel: found.id, column: column.name, confidence, why, source: { column: column.name } };
}

/** One column for each channel, the surest first; equals are told. */
function choose(candidates: readonly Candidate[], notes: string[]): Map<ChannelId, Candidate> {
  const chosen = new Map<ChannelId, Candidate>();
  for (const candidate of [...candidates].sort((a, b) => b.confidence - a.confidence)) {
    const taken = chosen.get(candidate.channel);
    if (!taken) chosen.set(candidate.channel, candidate);
    else if (candidate.confidence === taken.confidence) {
      notes.push(`Both "${taken.column}" and "${candidate.column}" look like ${candidate.channel}; the first is used.`);
    }
  }
  return chosen;
}

/** Knock retard counts positive; a column that only goes below zero is turned round, one that does both is not guessed. */
function settleSign(candidate: Candidate, column: Column, notes: string[]): ChannelSource | undefined {
  const sample = sampleOf(column.values);
  const low = sample.reduce((least, value) => Math.min(least, value), 0);
  const high = sample.reduce((most, value) => Math.max(most, value), 0);
  if (low < 0 && high > 0) {
    notes.push(
      `"${candidate.column}" goes above and below zero, so which way is retard is not guessed; ${candidate.channel} is left out. Map it with "scale": 1 or -1.`,
    );
    return undefined;
  }
  if (low === 0) return candidate.source;
  notes.push(`"${candidate.column}" only goes below zero; read as retard with its sign turned.`);
  return { ...candidate.source, scale: -1 };
}

/** Gauge or absolute must show in name, unit or data; kilopascals alone do not prove it. */
function settleReference(table: Table, mapping: Mapping, notes: string[]): void {
  for (const id of ['manifold_pressure', 'manifold_pressure_target'] as const) {
    const source = mapping.channels[id];
    if (source === undefined || typeof source === 'string') continue;
    const drafts = draftsOf(table, mapping);
    const draft = drafts.get(id);
    if (!draft || draft.unit.unit.reference || referenceByName(id, source.column)) continue;
    if (id === 'manifold_pressure_target' && mapping.channels.manifold_pressure !== undefined) continue;
    if (referenceByData(draft, drafts.get('engine_speed'))) continue;
    if (draft.unit.unit.unit === 'kPa' && /^map\b|manifold/.test(foldedName(source.column))) continue;
    delete mapping.channels[id];
    notes.push(
      `"${source.column}" may be gauge or absolute and neither its header nor the log tells; ${id} is left out. Map it with "reference".`,
    );
  }
}

/**
 * A mapping from header names, units and values, for a log that comes without one. Nothing is guessed silently where a wrong
 * guess could hide a fault: gauge or absolute and the sign of knock retard must show, else the channel is left out.
 */
export function guessMapping(table: Table): GuessedMapping {
  const notes: string[] = [];
  const columns = table.columns.filter(({ name }) => !isPersonalColumn(name));
  const time = guessTime(columns);
  if (time.told) notes.push(`"${time.column}" is taken as time in ${time.unit}: ${time.why}.`);
  const byName = new Map(columns.map((column) => [column.name, column]));
  const candidates = columns.flatMap((column) => (column.name === time.column ? [] : (candidateOf(column) ?? [])));
  const channels: Mapping['channels'] = {};
  const guesses: Guess[] = [{ channel: 'time', column: time.column, confidence: time.confidence, why: time.why }];
  for (const [id, candidate] of choose(candidates, notes)) {
    const column = byName.get(candidate.column) as Column;
    const signed = id.startsWith('knock_retard') ? settleSign(candidate, column, notes) : candidate.source;
    const source = signed && settleUnit(id, signed, column, notes);
    if (!source) continue;
    channels[id] = source;
    guesses.push({ channel: id, column: candidate.column, confidence: candidate.confidence, why: candidate.why });
  }
  if (Object.keys(channels).length === 0) {
    throw new UserError(
      'no column could be recognised as a channel.',
      undefined,
      'Write a mapping; "pullgate init" writes a starter.',
    );
  }
  const mapping: Mapping = { pullgate: 'map/1', time: { column: time.column, unit: time.unit }, channels };
  settleReference(table, mapping, notes);
  return { mapping, guesses: guesses.filter((g) => g.channel === 'time' || channels[g.channel] !== undefined), notes };
}
