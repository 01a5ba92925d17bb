import { judge, type Limit } from '../build-sheet/limit.ts';
import type { RetardEvent } from '../drive/retard/classify.ts';
import type { SignQuestion } from '../drive/retard/tracks.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { deg, detectableWords, type TimingInput } from './timing-pull-peak.ts';
import { limitShown, pullPlace } from './wording.ts';

const seconds = (value: number) => formatQuantity(value, 's');

/** Smooth retard that follows charge temperature: told, and no knock. */
export function temperatureFinding({ retard, limit, tracks }: TimingInput): Finding | undefined {
  const { common } = retard;
  if (!common) return undefined;
  const known = common.withTemperature !== undefined;
  const verdict = known || judge(common.highestDeg, limit) === 'pass' ? 'pass' : 'warn';
  const several = common.cylinders > 1;
  return {
    id: 'timing-pull.temperature',
    verdict,
    title: `${deg(common.highestDeg)} of smooth ${known ? 'temperature' : 'common'} retard, no knock by its shape`,
    measured: { value: common.highestDeg, unit: 'deg' },
    limit: limitShown(limit),
    reasoning: [
      `${several ? `Equal on all ${common.cylinders} logged cylinders` : 'Retard of the engine'}, rising without a step to ${deg(common.highestDeg)} at ${seconds(common.atS)}.`,
      known
        ? `It follows charge temperature (correlation ${common.withTemperature?.toFixed(2)} in the pulls): temperature compensation. It is taken off before knock is judged.`
        : 'Charge temperature is not logged, so it is only probably temperature compensation. It is taken off before knock is judged.',
    ],
    where: verdict === 'pass' ? [] : [{ start: common.atS, end: common.atS }],
    ...(verdict === 'pass' ? { detectable: detectableWords(tracks) } : {}),
    causes: [],
    next: verdict === 'warn' ? ['Log charge temperature, to tell compensation from slow knock retard.'] : [],
  };
}

const ONE_MOMENT_S = 0.35;

/** Events that come together, by time. */
function moments(events: readonly RetardEvent[]): RetardEvent[][] {
  const groups: RetardEvent[][] = [];
  for (const event of events.toSorted((a, b) => a.peakS - b.peakS)) {
    const last = groups.at(-1);
    if (last && event.peakS - last[0].peakS <= ONE_MOMENT_S) last.push(event);
    else groups.push([event]);
  }
  return groups;
}

/** The largest moments in a few words each. */
function tell(groups: readonly (readonly RetardEvent[])[]): string[] {
  const highest = (group: readonly RetardEvent[]) => group.reduce((a, b) => (b.peakDeg > a.peakDeg ? b : a));
  return groups
    .toSorted((a, b) => highest(b).peakDeg - highest(a).peakDeg)
    .slice(0, 4)
    .map((group) => {
      const top = highest(group);
      const who = new Set(group.map((event) => event.track.label));
      const label = who.size > 1 ? `${who.size} cylinders up to` : top.track.label;
      return `${label} ${deg(top.peakDeg)} at ${seconds(top.peakS)}${top.why ? ` (${top.why})` : ''}`;
    });
}

/** Retard with gear changes, lifts, traction, idle and overrun: told as such. */
export function managementFinding({ retard, limit, tracks }: TimingInput): Finding | undefined {
  const managed = retard.events.filter((e) => e.kind === 'torque-management' && tracks.includes(e.track));
  const elsewhere = retard.events.filter((e) => e.kind === 'elsewhere' && tracks.includes(e.track));
  const all = [...managed, ...elsewhere];
  if (all.length === 0) return undefined;
  const largest = all.reduce((a, b) => (b.peakDeg > a.peakDeg ? b : a));
  const [managedAt, elsewhereAt] = [moments(managed), moments(elsewhere)];
  return {
    id: 'timing-pull.torque-management',
    verdict: 'pass',
    title:
      managed.length > 0
        ? `${managedAt.length} retard event${managedAt.length === 1 ? '' : 's'} by torque management, not knock`
        : `${elsewhereAt.length} retard event${elsewhereAt.length === 1 ? '' : 's'} outside the judged pulls`,
    measured: { value: largest.peakDeg, unit: 'deg' },
    limit: limitShown(limit),
    reasoning: [
      ...(managed.length > 0
        ? [`Torque management, told and not judged as knock: ${tell(managedAt).join('; ')}.`]
        : []),
      ...(elsewhere.length > 0
        ? [`Outside the judged pulls, told and not judged: ${tell(elsewhereAt).join('; ')}.`]
        : []),
    ],
    where: all
      .slice(0, 20)
      .map((e) =>
        e.pull
          ? pullPlace(e.pull, e.onsetS, e.endS, [e.peakRpm, e.peakRpm])
          : { start: e.onsetS, end: Math.max(e.onsetS, e.endS) },
      ),
    detectable: detectableWords(tracks),
    causes: [],
    next: [],
  };
}

/** A resting level that is not zero: learned retard, or an offset of the channel. */
export function offsetFinding({ tracks, limit, drive }: TimingInput): Finding | undefined {
  const resting = tracks.filter((track) => Math.abs(track.restDeg) >= 0.3);
  if (resting.length === 0) return undefined;
  const largest = resting.reduce((a, b) => (Math.abs(b.restDeg) > Math.abs(a.restDeg) ? b : a));
  const logged = largest.basis !== 'target-minus-actual';
  const level = Math.max(0, largest.restDeg);
  const verdict = judge(level, limit) !== 'pass' && (logged || judge(level, limit) === 'fail') ? 'warn' : 'pass';
  return {
    id: 'timing-pull.offset',
    verdict,
    title: `${logged ? 'Retard' : 'Target minus actual advance'} rests at ${deg(largest.restDeg)}, ${largest.label}`,
    measured: { value: level, unit: 'deg' },
    limit: limitShown(limit),
    reasoning: [
      `Resting level ${logged ? 'with the engine running and no pull' : 'in the pulls'}: ${resting.map((t) => `${t.label} ${deg(t.restDeg)}`).join(', ')}.`,
      'Knock is judged above this level. A level that never goes away is learned retard for poor fuel, a standing compensation, or an offset of the channel.',
    ],
    where: verdict === 'warn' ? [{ start: 0, end: drive.recording.durationS }] : [],
    ...(verdict === 'pass' ? { detectable: detectableWords(tracks) } : {}),
    causes: [],
    next:
      verdict === 'warn'
        ? ['Find out whether the controller has learned this retard; reset its adaption on fresh fuel.']
        : [],
  };
}

/** A retard channel that only goes down: never a silent pass. */
export function signFinding(signs: readonly SignQuestion[], limit: Limit): Finding | undefined {
  if (signs.length === 0) return undefined;
  const lowest = signs.reduce((a, b) => (b.lowestDeg < a.lowestDeg ? b : a));
  const size = Math.abs(lowest.lowestDeg);
  const verdict = judge(size, limit) === 'pass' ? 'not-assessed' : 'warn';
  return {
    id: 'timing-pull.sign',
    verdict,
    title: 'Retard only goes below zero: a mapping question',
    measured: { value: size, unit: 'deg' },
    limit: limitShown(limit),
    reasoning: [
      `"${lowest.column}" (${lowest.channel}) falls to ${deg(lowest.lowestDeg)} and never rises above zero. Here retard is positive.`,
      'If the logger writes retard as negative numbers, the mapping needs "scale": -1 for this channel; until then its retard is not judged.',
    ],
    where: [{ start: lowest.atS, end: lowest.atS }],
    causes: [],
    next: [`Set "scale": -1 for ${signs.map((sign) => sign.channel).join(', ')} in the mapping and run again.`],
  };
}
