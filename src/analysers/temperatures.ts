// Question: are coolant and oil in range?
// Too hot, the oil film thins and controllers take timing away; too cold, clearances are wide and oil does not reach where it must.
// Measure = the highest level held for two seconds with the engine running, lone readings and electrical jumps left out.
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import { engineSpeedAt } from '../drive/channel-series.ts';
import { type CleanTemperature, cleanTemperature } from '../drive/charge-clean.ts';
import { heldMaximum } from '../drive/charge-held.ts';
import { type Drive, type Pull, REGIMES } from '../drive/drive.ts';
import { sampleNoise } from '../drive/duty-noise.ts';
import { indexAtOrAfter } from '../drive/pull-series.ts';
import { regimeAt } from '../drive/regime-at.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { DataTable, Finding } from './finding.ts';
import { HOT_NEXT, hotCauses, jumpWords } from './temperatures-words.ts';
import { limitShown, limitWords, notAssessedFinding, pullNames, pullPlace, withInterval } from './wording.ts';

const NO_SOURCE = 'common practice, no source';
/** A temperature counts once it was held this long, s. */
const HOLD_S = 2;
/** Full load on an engine colder than this is hard on it, °C. */
const COLD_C = 60;

const degrees = (value: number) => formatQuantity(value, 'degC');

const FLUIDS = [
  { id: 'temperatures.coolant', channel: 'coolant_temperature', name: 'Coolant' },
  { id: 'temperatures.oil', channel: 'oil_temperature', name: 'Oil' },
] as const;
type Fluid = (typeof FLUIDS)[number];

const meta: AnalyserMeta = {
  id: 'temperatures',
  title: 'Coolant and oil',
  question: 'Are coolant and oil in range?',
  needs: [['coolant_temperature', 'oil_temperature']],
  helps: ['coolant_temperature', 'oil_temperature', 'engine_speed'],
  formula: `highest level held ${HOLD_S} s with the engine running`,
  physics:
    'A third of the fuel’s heat goes into the coolant, and full load makes more of it than a road drive ever does. ' +
    'Oil follows later and cools last: hot, its film between bearing and journal thins; cold, it is slow to arrive. ' +
    'Knock comes sooner in a hot engine, and the controller takes timing and boost away.',
  limits: [
    { id: 'temperatures.coolant', title: 'Coolant, held 2 s', unit: 'degC', warn: 105, fail: 115, source: NO_SOURCE },
    { id: 'temperatures.oil', title: 'Oil, held 2 s', unit: 'degC', warn: 125, fail: 140, source: NO_SOURCE },
  ],
  cannotSee: [
    'Hot spots in the head: the sensor sees the mixed coolant.',
    'A sensor that stands in air because coolant is missing reads low.',
    'What comes after the log: oil goes on heating for a while after a pull.',
  ],
  cautions: ['An engine that runs hot is stopped, not driven on; hot coolant under pressure scalds.'],
};

/** Readings with the engine running; all where engine speed is not logged. */
function running(drive: Drive, t: CleanTemperature): { time: Float64Array; values: Float64Array } {
  if (!drive.regime.includes(REGIMES.indexOf('engine-off'))) return t;
  const isOn = (i: number) => regimeAt(drive, t.time[i]) !== 'engine-off';
  return { time: t.time.filter((_, i) => isOn(i)), values: t.values.filter((_, i) => isOn(i)) };
}

/** How long readings lay at or above a mark; a gap counts as `gapS` at most. */
function secondsAbove(mark: number, time: Float64Array, values: Float64Array, gapS: number): number {
  let seconds = 0;
  for (let i = 1; i < values.length; i++) if (values[i] >= mark) seconds += Math.min(gapS, time[i] - time[i - 1]);
  return seconds;
}

function hotFinding(drive: Drive, fluid: Fluid, limit: Limit): Finding {
  const { id, name, channel } = fluid;
  const raw = drive.recording.channels.get(channel);
  const t = cleanTemperature(drive, channel);
  if (!raw || !t)
    return notAssessedFinding(id, `${name} temperature is not logged`, `${name} temperature is not logged.`, [
      `Log ${channel}.`,
    ]);
  const { time, values } = running(drive, t);
  const held = heldMaximum(time, values, HOLD_S, Math.max(5, t.gapS));
  if (!held) {
    return notAssessedFinding(
      id,
      `${name} temperature cannot be judged`,
      `No ${HOLD_S} s of believable readings with the engine running: ${raw.values.length} readings, ${t.implausible} outside what the sensor can show.`,
      [`Check the sensor and the mapping of ${channel}.`],
    );
  }
  const half = 1.96 * sampleNoise(values) + t.step / 2;
  const unseen = drive.pulls.filter(
    (pull) => pull.usable && indexAtOrAfter(time, pull.endS + 30) - indexAtOrAfter(time, pull.startS) < 1,
  );
  const plain = judge(held.value, limit);
  const verdict = plain === 'pass' && unseen.length > 0 ? 'not-assessed' : plain;
  const isTripped = verdict === 'warn' || verdict === 'fail';
  const pull = drive.pulls.find(({ startS, endS }) => held.endS >= startS && held.startS <= endS);
  const rpm = engineSpeedAt(drive, Float64Array.of(held.startS))[0];
  const mark = limit.warn ?? limit.fail ?? Number.POSITIVE_INFINITY;
  const place = pull ? pullPlace(pull, held.startS, held.endS, [rpm, rpm]) : { start: held.startS, end: held.endS };
  return {
    id,
    verdict,
    title:
      verdict === 'not-assessed'
        ? `${name} temperature is not logged in every pull`
        : `${name} reaches ${degrees(held.value)}`,
    measured: { value: held.value, unit: 'degC', low: held.value - half, high: held.value + half },
    limit: limitShown(limit),
    reasoning: [
      `The highest level that ${name.toLowerCase()} held for ${HOLD_S} s with the engine running is ${withInterval(held.value, held.value - half, held.value + half, 'degC')}, from ${formatQuantity(held.startS, 's')}${pull ? ` in pull ${pull.id}` : ''}; ${limitWords(limit)}.`,
      ...(isTripped
        ? [`At or above ${degrees(mark)} for ${formatQuantity(secondsAbove(mark, time, values, t.gapS), 's')} in all.`]
        : []),
      ...(unseen.length > 0 ? [`No reading in or after ${pullNames(unseen.map((p) => p.id))}.`] : []),
      ...jumpWords(t, name),
    ],
    where: [place],
    ...(verdict === 'pass'
      ? {
          detectable: `${name} at ${degrees(mark + half)} for ${formatQuantity(Math.max(HOLD_S, 1 / t.rateHz) + 1 / t.rateHz, 's')} at the sensor would have shown.`,
        }
      : {}),
    causes: isTripped ? hotCauses(drive, fluid.name, values, time) : [],
    next: isTripped
      ? [...HOT_NEXT[fluid.name]]
      : verdict === 'not-assessed'
        ? [`Log ${channel} through the whole drive.`]
        : [],
  };
}

interface AtPull {
  readonly pull: Pull;
  readonly start: number | undefined;
  readonly top: number | undefined;
}

function atPulls(drive: Drive, fluid: Fluid): AtPull[] {
  const t = cleanTemperature(drive, fluid.channel);
  return drive.pulls.map((pull) => {
    if (!t) return { pull, start: undefined, top: undefined };
    const at = indexAtOrAfter(t.time, pull.startS + 0.5) - 1;
    const start = at >= 0 && pull.startS - t.time[at] <= Math.max(5, t.gapS) ? t.values[at] : undefined;
    const cut = t.values.subarray(indexAtOrAfter(t.time, pull.startS), indexAtOrAfter(t.time, pull.endS + 5));
    return { pull, start, top: cut.length > 0 ? cut.reduce((a, b) => Math.max(a, b)) : undefined };
  });
}

/** Full load on a cold engine: told, no limit of its own. */
function coldFinding(pulls: readonly (readonly [Fluid, readonly AtPull[]])[]): Finding | undefined {
  const cold = pulls.flatMap(([fluid, at]) =>
    at.flatMap(({ pull, start }) => (start !== undefined && start < COLD_C ? [{ fluid, pull, start }] : [])),
  );
  if (cold.length === 0) return undefined;
  const coldest = cold.reduce((a, b) => (b.start < a.start ? b : a));
  return {
    id: 'temperatures.cold-pull',
    verdict: 'pass',
    title: `Full load on a cold engine: ${coldest.fluid.name.toLowerCase()} at ${degrees(coldest.start)} at the start of pull ${coldest.pull.id}`,
    measured: { value: coldest.start, unit: 'degC' },
    reasoning: [
      ...cold.map(
        ({ fluid, pull, start }) =>
          `Pull ${pull.id} began with ${fluid.name.toLowerCase()} at ${degrees(start)}, below ${degrees(COLD_C)}.`,
      ),
      'Cold, the mixture is still enriched, clearances are wide and oil is thick: it wears the engine, and what the pull shows is not what a warm engine does.',
    ],
    where: [...new Set(cold.map(({ pull }) => pull))].map((pull) => pullPlace(pull)),
    detectable: `A pull begun with coolant or oil below ${degrees(COLD_C)} is told, where they are logged.`,
    causes: [],
    next: ['Warm the engine up fully, oil included, and repeat the pulls before judging them.'],
  };
}

function table(drive: Drive, [coolant, oil]: readonly (readonly AtPull[])[]): DataTable {
  return {
    id: 'temperatures.pulls',
    title: 'Coolant and oil by pull',
    columns: [
      { name: 'pull', unit: '' },
      ...['coolant at start', 'coolant highest', 'oil at start', 'oil highest'].map((name) => ({ name, unit: 'degC' })),
    ],
    rows: drive.pulls.map((pull, i) => [
      String(pull.id),
      coolant[i].start ?? null,
      coolant[i].top ?? null,
      oil[i].start ?? null,
      oil[i].top ?? null,
    ]),
  };
}

function assess(drive: Drive, { limits }: AssessContext): Assessment {
  const hot = FLUIDS.map((fluid) => hotFinding(drive, fluid, limitOf(limits, fluid.id)));
  const at = FLUIDS.map((fluid) => [fluid, atPulls(drive, fluid)] as const);
  const cold = coldFinding(at);
  const seen = hot.filter((finding) => finding.verdict !== 'not-assessed');
  return {
    summary:
      seen.length > 0
        ? `${seen.map((finding) => finding.title).join('; ')}.`
        : 'Neither coolant nor oil temperature can be judged.',
    findings: cold ? [...hot, cold] : hot,
    needs: FLUIDS.filter(({ channel }) => !drive.recording.channels.has(channel)).map(({ channel }) => channel),
    tables:
      drive.pulls.length > 0 && seen.length > 0
        ? [
            table(
              drive,
              at.map(([, pulls]) => pulls),
            ),
          ]
        : [],
  };
}

export const temperatures: Analyser = { meta, assess };
