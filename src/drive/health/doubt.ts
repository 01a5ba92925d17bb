import { type ChannelId, channelEntry } from '../../channels/catalogue.ts';
import { oncePer } from '../../kernel/once-per.ts';
import type { Drive } from '../drive.ts';

/** A stretch of the log, s. */
export interface Span {
  readonly startS: number;
  readonly endS: number;
}

/**
 * Something that speaks against a channel. `tell` is a fact worth knowing that no verdict rests on, `warn` a channel that
 * cannot be believed, `fail` a channel that is certainly wrong in a pull that is judged by it.
 */
export interface Doubt {
  readonly gravity: 'tell' | 'warn' | 'fail';
  readonly channels: readonly ChannelId[];
  /** For a title: "manifold pressure stood still". */
  readonly short: string;
  readonly said: readonly string[];
  readonly where: readonly Span[];
  /** What was measured and the mark it is held against. */
  readonly measured?: { readonly value: number; readonly unit: string; readonly mark: number };
  readonly next: readonly string[];
}

/** What a check looked at and what it found. */
export interface Check {
  /** Channels, or pairs in words, that the log lets be checked. */
  readonly checked: readonly string[];
  readonly doubts: readonly Doubt[];
}

/** A channel's name inside a sentence. */
export function channelName(id: ChannelId): string {
  const { title } = channelEntry(id);
  return title[0].toLowerCase() + title.slice(1);
}

export const secondsOf = ({ startS, endS }: Span): number => Math.max(0, endS - startS);

/** Seconds of `span` that lie inside any of `others`. */
export function overlapS(span: Span, others: readonly Span[]): number {
  return others.reduce(
    (sum, other) => sum + Math.max(0, Math.min(span.endS, other.endS) - Math.max(span.startS, other.startS)),
    0,
  );
}

/** Spans that lie no further apart than `gapS` joined, in order of time. */
export function joined(spans: readonly Span[], gapS: number): Span[] {
  const result: Span[] = [];
  for (const span of spans.toSorted((a, b) => a.startS - b.startS)) {
    const last = result[result.length - 1];
    if (last && span.startS - last.endS <= gapS) {
      result[result.length - 1] = { startS: last.startS, endS: Math.max(last.endS, span.endS) };
    } else result.push(span);
  }
  return result;
}

/** Seconds with the engine turning by itself. */
export const runningS = oncePer(({ time, engineSpeed }: Drive): number => {
  let seconds = 0;
  for (let i = 1, n = time.length; i < n; i++) {
    if (engineSpeed[i] > 500) seconds += Math.min(2, time[i] - time[i - 1]);
  }
  return seconds;
});

/** Text with a capital letter. */
export const sentence = (text: string): string => text[0].toUpperCase() + text.slice(1);
