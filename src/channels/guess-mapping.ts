import { UserError } from '../kernel/user-error.ts';
import type { Column, Table } from '../read/table.ts';
import type { ChannelId } from './catalogue.ts';
import { behavesLikeEngineSpeed, behavesLikeManifold } from './guess-behaviour.ts';
import { type Candidate, type Candidates, candidatesOf, type Question } from './guess-candidates.ts';
import { type Evidence, traceOf } from './guess-evidence.ts';
import { type LogShape, shapeOf } from './guess-layout.ts';
import { type Settled, settle, settleReference, unitContext } from './guess-settle.ts';
import { guessTime, ownTimeColumns, type TimeGuess, timeOfOwn } from './guess-time.ts';
import type { Mapping } from './mapping-schema.ts';
import { draftsOf } from './normalise.ts';
import type { Pressure } from './pressure-reference.ts';

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
  /** What was left out because only a person can tell. */
  readonly questions: readonly Question[];
  /** Columns that look like no channel. */
  readonly unmatched: readonly string[];
  /** What was left out or assumed, each one sentence. */
  readonly notes: readonly string[];
}

export interface GuessOptions {
  /** Rows a second, for a log without a time column. */
  readonly rateHz?: number | undefined;
}

type Drafts = ReadonlyMap<ChannelId, Pressure>;

interface Timing {
  readonly time: Mapping['time'];
  readonly guess: TimeGuess | undefined;
  readonly own: ReadonlyMap<string, Column>;
}

function timing(shape: LogShape, options: GuessOptions): Timing {
  const own = shape.long ? new Map<string, Column>() : ownTimeColumns(shape.columns);
  if (options.rateHz !== undefined) return { time: { rate: options.rateHz }, guess: undefined, own: new Map() };
  const isOwn = new Set([...own.values()].map((column) => column.name));
  const common = guessTime(shape.timeColumns.filter((column) => !isOwn.has(column.name)));
  const [first] = own.values();
  const guess = common ?? (first && timeOfOwn(first));
  if (!guess) {
    throw new UserError(
      'no column looks like time.',
      undefined,
      'Write a mapping with "time": { "column": "…", "unit": "s" }, or { "rate": 20 } for a log without a time column.',
    );
  }
  return { time: { column: guess.column, unit: guess.unit }, guess, own };
}

const mappingWith = (shape: LogShape, { time }: Timing, chosen: Iterable<Candidate>): Mapping => ({
  pullgate: 'map/1',
  ...(shape.long && { layout: 'long', long: shape.long }),
  time,
  channels: Object.fromEntries([...chosen].map(({ channel, source }) => [channel, source])),
});

const evidenceOf = (drafts: Drafts): Evidence =>
  new Map([...drafts].map(([id, { series, values }]) => [id, traceOf(series.time, values)]));

/** Engine speed and manifold pressure by behaviour, where no name says which they are. */
function byBehaviour(
  table: Table,
  shape: LogShape,
  at: Timing,
  found: Candidates,
): { more: Candidate[]; asks: Question[] } {
  const more: Candidate[] = [];
  const asks: Question[] = [];
  const candidate = (channel: ChannelId, column: Column, confidence: number, why: string): Candidate => {
    const time = at.own.get(column.name)?.name;
    return { channel, column, confidence, why, source: { column: column.name, ...(time && { time }) } };
  };
  if (!found.chosen.has('engine_speed')) {
    const alike = found.unmatched.filter((column) =>
      behavesLikeEngineSpeed(column, column.values.filter(Number.isFinite)),
    );
    if (alike.length === 1) more.push(candidate('engine_speed', alike[0], 0.7, 'it is in rpm, idles and revs'));
  }
  const engine = found.chosen.get('engine_speed') ?? more[0];
  if (found.chosen.has('manifold_pressure') || !engine) return { more, asks };
  for (const column of found.unmatched) {
    if (column.kind !== 'number' || column === engine.column) continue;
    const probe = { ...candidate('manifold_pressure', column, 0, ''), source: { column: column.name, unit: 'kPa' } };
    const evidence = evidenceOf(draftsOf(table, mappingWith(shape, at, [engine, probe])));
    const trace = evidence.get('manifold_pressure');
    const seen = trace && behavesLikeManifold(column, trace, evidence.get('engine_speed'));
    if (!seen) continue;
    const { unit, reference, why } = seen.reading;
    const how = `it behaves like manifold pressure in ${unit} ${reference}: ${why}`;
    const guess = candidate('manifold_pressure', column, seen.unitStated ? 0.65 : 0.5, how);
    if (seen.unitStated) more.push({ ...guess, source: { ...guess.source, unit, reference } });
    else {
      const ask = `"${column.name}" has no unit, but ${how}. Map it with "unit": "${unit}", "reference": "${reference}" if it is.`;
      asks.push({ column: column.name, channel: 'manifold_pressure', confidence: 0.5, ask });
    }
  }
  const alike = more.filter(({ channel }) => channel === 'manifold_pressure');
  return { more: alike.length > 1 ? more.filter((one) => !alike.includes(one)) : more, asks };
}

/** Every candidate with unit, sign and reference, in the order they were found. */
function settleAll(table: Table, shape: LogShape, at: Timing, chosen: readonly Candidate[]): Settled[] {
  const evidence = evidenceOf(draftsOf(table, mappingWith(shape, at, chosen)));
  const empty = { time: new Float64Array(), values: new Float64Array() };
  const settleOne = (candidate: Candidate, manifold?: Candidate) => {
    const { unit, reference } = manifold?.source ?? {};
    const like =
      unit === undefined ? undefined : { unit, ...(reference && { reference }), why: 'manifold pressure is' };
    return settle(candidate, evidence.get(candidate.channel) ?? empty, unitContext(chosen, evidence, like));
  };
  const first = chosen.find(({ channel }) => channel === 'manifold_pressure');
  const manifold = first && settleOne(first);
  const known = manifold && 'guess' in manifold ? manifold.guess : undefined;
  const settled = chosen.map((candidate) => (candidate === first && manifold ? manifold : settleOne(candidate, known)));
  const guesses = settled.flatMap((one) => ('guess' in one ? [one.guess] : []));
  const drafts = guesses.length > 0 ? draftsOf(table, mappingWith(shape, at, guesses)) : new Map();
  let reference: NonNullable<Candidate['source']['reference']> | undefined;
  const referenced = new Map<ChannelId, Settled>();
  for (const id of ['manifold_pressure', 'manifold_pressure_target'] as const) {
    const guess = guesses.find(({ channel }) => channel === id);
    const draft = drafts.get(id);
    if (!guess || !draft) continue;
    const result = settleReference(guess, draft, drafts.get('engine_speed'), reference);
    referenced.set(id, result);
    if (id === 'manifold_pressure' && 'guess' in result) {
      reference = result.guess.source.reference ?? draft.unit.unit.reference;
    }
  }
  return settled.map((one) => {
    if (!('guess' in one)) return one;
    const again = referenced.get(one.guess.channel);
    if (!again) return one;
    return 'guess' in again && one.note ? { ...again, note: one.note } : again;
  });
}

/**
 * A mapping from header names, units and values, for a log that comes without one. Nothing is guessed silently where a wrong
 * guess could hide a fault: gauge or absolute and the sign of knock retard must show, else the channel is left out.
 */
export function guessMapping(table: Table, options: GuessOptions = {}): GuessedMapping {
  const shape = shapeOf(table);
  const at = timing(shape, options);
  const isTime = new Set([at.guess?.column, ...[...at.own.values()].map((column) => column.name)]);
  const found = candidatesOf(
    shape.columns.filter(({ name }) => !isTime.has(name)),
    at.own,
  );
  const { more, asks } = byBehaviour(table, shape, at, found);
  const settled = settleAll(table, shape, at, [...found.chosen.values(), ...more]);
  const kept = settled.flatMap((one) => ('guess' in one ? [one.guess] : []));
  if (kept.length === 0) {
    throw new UserError(
      'no column could be recognised as a channel.',
      undefined,
      'Write a mapping; "pullgate init" writes a starter.',
    );
  }
  const open = settled.flatMap((one) => ('question' in one ? [one.question] : []));
  const { guess } = at;
  const told = guess?.told ? [`"${guess.column}" is taken as time in ${guess.unit}: ${guess.why}.`] : [];
  const settledNotes = settled.flatMap((one) => ('guess' in one ? (one.note ?? []) : [one.question.ask]));
  const taken = new Set([...kept, ...more].map(({ column }) => column));
  return {
    mapping: mappingWith(shape, at, kept),
    guesses: [
      ...(guess
        ? [{ channel: 'time' as const, column: guess.column, confidence: guess.confidence, why: guess.why }]
        : []),
      ...kept.map(({ channel, column, confidence, why }) => ({ channel, column: column.name, confidence, why })),
    ],
    questions: [...open, ...asks, ...found.questions],
    unmatched: found.unmatched.filter((column) => !taken.has(column)).map((column) => column.name),
    notes: [...told, ...found.notes, ...settledNotes],
  };
}
