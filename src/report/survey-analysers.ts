import type { Analyser } from '../analysers/analyser.ts';
import { CATALOGUE, type ChannelId } from '../channels/catalogue.ts';
import type { Recording } from '../channels/recording.ts';
import { loadSignal } from '../drive/load-signal.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { SurveyAnalyser, WantedChannel } from './survey-schema.ts';

/** Questions about what is brief: which channel must show it, and from which true rate on (common practice, no source). */
const BRIEF: Readonly<Record<string, readonly [channel: ChannelId, leastHz: number, what: string]>> = {
  'boost-spike': ['manifold_pressure', 10, 'an excursion of less than half a second'],
  'boost-overshoot': ['manifold_pressure', 4, 'the first rise of boost'],
  'boost-creep': ['manifold_pressure', 2, 'the course of a pull'],
  'injector-duty': ['engine_speed', 2, 'the top of a pull'],
  'timing-pull': ['engine_speed', 4, 'a retard of a few ignitions'],
  mixture: ['lambda', 4, 'a lean stretch of a fifth of a second'],
};

/** Questions that only a full-load pull can answer. */
const ASKS_FOR_PULLS = [
  'injector-duty',
  'boost-overshoot',
  'boost-spike',
  'boost-creep',
  'timing-pull',
  'mixture',
  'fuel-pressure',
  'charge-temperature',
  'boost-target',
  'torque',
];

type Present = ReadonlySet<string>;

/** `a or b`; a run of numbered channels as its first and last. */
function anyOf(ids: readonly ChannelId[]): string {
  const numbered = ids.filter((id) => /^knock_retard_\d+$/.test(id));
  const others = ids.filter((id) => !numbered.includes(id)).join(' or ');
  if (numbered.length < 3) return ids.join(' or ');
  return [`${numbered[0]} … ${numbered[numbered.length - 1]}`, others].filter(Boolean).join(' or ');
}

function limits(id: string, recording: Recording): string[] {
  const reasons: string[] = [];
  const brief = BRIEF[id];
  const channel = brief && recording.channels.get(brief[0]);
  if (channel && channel.rateHz < brief[1]) {
    reasons.push(
      `${brief[0]} is updated ${formatQuantity(channel.rateHz, 'Hz')}, and ${brief[2]} needs about ${formatQuantity(brief[1], 'Hz')}.`,
    );
  }
  if (ASKS_FOR_PULLS.includes(id) && !loadSignal(recording)) {
    reasons.push('Full load was never reached in this log.');
  }
  return reasons;
}

/** Which questions a log can serve, and why not. What a drive really shows only `check` finds out. */
export function servedAnalysers(
  analysers: readonly Analyser[],
  present: Present,
  recording: Recording | undefined,
): SurveyAnalyser[] {
  return analysers.map(({ meta }) => {
    const lacking = meta.needs.filter((any) => !any.some((id) => present.has(id)));
    const reasons = recording && lacking.length === 0 ? limits(meta.id, recording) : [];
    const missing = lacking.map((any) => `Needs ${anyOf(any)}.`);
    const unread = recording ? [] : ['The log cannot be read as it stands; see the notes.'];
    return {
      id: meta.id,
      title: meta.title,
      served: lacking.length > 0 || !recording ? 'no' : reasons.length > 0 ? 'limited' : 'yes',
      reasons: [...missing, ...unread, ...reasons],
      lacking: lacking.map((any) => [...any]),
    };
  });
}

const OPENS = 4;
const OPENS_WITH_OTHERS = 2;
const HELPS = 1;
const MOST_WANTED = 8;
/** Second banks and further cylinders are asked for through their first. */
const ONE_OF_MANY = /^(knock_retard|short_term_fuel_trim|long_term_fuel_trim)_([2-9]|1\d)$/;

/** Channels that would add most: those that open questions first, then those that sharpen answers. */
export function wantedChannels(analysers: readonly Analyser[], present: Present): WantedChannel[] {
  const scored = CATALOGUE.filter(({ id }) => !present.has(id) && !ONE_OF_MANY.test(id)).map(({ id, title }) => {
    let score = 0;
    const opens: string[] = [];
    const helps: string[] = [];
    for (const [place, { meta }] of analysers.entries()) {
      const lacking = meta.needs.filter((any) => !any.some((need) => present.has(need)));
      if (lacking.some((any) => any.includes(id))) {
        opens.push(meta.id);
        // The report's order is the order of importance: an early question counts up to twice.
        score += (lacking.length === 1 ? OPENS : OPENS_WITH_OTHERS) * (2 - place / analysers.length);
      } else if (meta.helps.includes(id)) {
        helps.push(meta.id);
        score += HELPS;
      }
    }
    return { channel: id, title, opens, helps, score };
  });
  return scored
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score)
    .slice(0, MOST_WANTED)
    .map(({ score: _, ...wanted }) => wanted);
}
