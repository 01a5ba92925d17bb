import { formatNumber } from '../kernel/format-number.ts';
import type { ChannelId } from './catalogue.ts';
import { CATALOGUE } from './catalogue.ts';
import type { Guess, GuessedMapping } from './guess-mapping.ts';
import type { ChannelSource, Mapping } from './mapping-schema.ts';

/** What makes a mapping ready for the next session. */
export interface DraftAbout {
  readonly title: string;
  /** Doubts that physics has about the draft, each one sentence. */
  readonly doubts: readonly string[];
}

const CONTROL = /[\p{Cc}\u2028\u2029]+/gu;

/** A comment stays on its line whatever a column is called. */
const comment = (text: string, indent: string) => `${indent}// ${text.replace(CONTROL, ' ')}`;

const percent = (confidence: number) => `${formatNumber(Math.round(confidence * 100), 'rpm')} % sure`;

/** A source as people write it: only the name where the name is all. */
function sourceText(source: string | ChannelSource): string {
  if (typeof source === 'string') return JSON.stringify(source);
  const entries = Object.entries(source);
  if (entries.length === 1) return JSON.stringify(source.column);
  return `{ ${entries.map(([key, value]) => `${JSON.stringify(key)}: ${JSON.stringify(value)}`).join(', ')} }`;
}

const objectText = (value: object): string =>
  `{ ${Object.entries(value)
    .map(([key, part]) => `${JSON.stringify(key)}: ${JSON.stringify(part)}`)
    .join(', ')} }`;

/** Catalogue order, which is that of the README and of the starter file. */
const ORDER: readonly string[] = CATALOGUE.map(({ id }) => id);

function channelLines(mapping: Mapping, guesses: ReadonlyMap<string, Guess>): string[] {
  const entries = Object.entries(mapping.channels) as [ChannelId, string | ChannelSource][];
  const sorted = entries.toSorted(([a], [b]) => ORDER.indexOf(a) - ORDER.indexOf(b));
  return sorted.flatMap(([id, source], i) => {
    const guess = guesses.get(id);
    const why = guess ? [comment(`${percent(guess.confidence)}: ${guess.why}`, '    ')] : [];
    return [...why, `    "${id}": ${sourceText(source)}${i < sorted.length - 1 ? ',' : ''}`];
  });
}

/** Columns that are no channel, named so that nobody need wonder; at most this many. */
const LISTED = 40;

function left({ unmatched }: GuessedMapping): string[] {
  if (unmatched.length === 0) return [];
  const more = unmatched.length > LISTED ? [comment(`and ${unmatched.length - LISTED} more`, '  ')] : [];
  return [
    '',
    comment('Columns that look like no channel:', '  '),
    ...unmatched.slice(0, LISTED).map((name) => comment(`"${name}"`, '  ')),
    ...more,
  ];
}

/** The drafted mapping as a file: JSON with comments that say how sure each guess is and why, and what only a person can tell. */
export function draftText(guessed: GuessedMapping, { title, doubts }: DraftAbout): string {
  const { mapping, guesses, questions } = guessed;
  const byChannel = new Map(guesses.map((guess) => [guess.channel as string, guess]));
  const time = byChannel.get('time');
  const asked = questions.map(({ ask, confidence }) => comment(`${ask} (${percent(confidence)})`, '  '));
  return [
    '// Drafted by pullgate from the names, units and values of one log. Read every line before trusting it.',
    '{',
    '  "pullgate": "map/1",',
    `  "title": ${JSON.stringify(title)},`,
    ...(mapping.layout === 'long' && mapping.long
      ? ['  "layout": "long",', `  "long": ${objectText(mapping.long)},`]
      : []),
    ...(time ? [comment(`${percent(time.confidence)}: ${time.why}`, '  ')] : []),
    `  "time": ${objectText(mapping.time)},`,
    ...(doubts.length > 0 ? ['', comment('Doubts:', '  '), ...doubts.map((text) => comment(text, '  '))] : []),
    '  "channels": {',
    ...channelLines(mapping, byChannel),
    '  }',
    ...(asked.length > 0 ? ['', comment('Questions that only you can answer:', '  '), ...asked] : []),
    ...left(guessed),
    '}',
    '',
  ].join('\n');
}
