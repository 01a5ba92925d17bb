// Question: are coolant and oil in range?
// Too hot, the oil film thins and controllers take timing away; too cold, clearances are wide and oil does not reach where it must.
// Measure = the highest level held for two seconds with the engine running, lone readings and electrical jumps left out.
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import { engineSpeedAt } from '../drive/channel-series.ts';
import { type CleanTemperature, cleanTemperature } from '../drive/charge/clean.ts';
import { heldMaximum } from '../drive/charge/held.ts';
import { type Drive, REGIME_CODE } from '../drive/drive.ts';
import { indexAtOrAfter } from '../drive/pull-series.ts';
import { regimesAt } from '../drive/regime-at.ts';
import { temperatureFault } from '../drive/temperature-fault.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { sampleNoise } from '../signal/sample-noise.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { atPulls, coldFinding, FLUIDS, type Fluid, pullTable } from './temperatures-pulls.ts';
import { HOT_NEXT, hotCauses, jumpWords } from './temperatures-words.ts';
import { limitShown, limitWords, notAssessedFinding, pullNames, pullPlace, withInterval } from './wording.ts';

const NO_SOURCE = 'common practice, no source';
/** A temperature counts once it was held this long, s. */
const HOLD_S = 2;

const degrees = (value: number) => formatQuantity(value, 'degC');

const meta: AnalyserMeta = {
  id: 'temperatures',
  title: 'Coolant and oil',
  question: 'Are coolant and oil in range?',
  needs: [['coolant_temperature', 'oil_temperature']],
  helps: ['coolant_temperature', 'oil_temperature', 'engine_speed'],
  formula: `peak (°C) = highest level held ${HOLD_S} s with the engine running`,
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
  const off = REGIME_CODE['engine-off'];
  if (!drive.regime.includes(off)) return t;
  const regimes = regimesAt(drive, t.time);
  const isOn = (_: number, i: number) => regimes[i] !== off;
  return { time: t.time.filter(isOn), values: t.values.filter(isOn) };
}

/** How long readings lay at or above a mark; a gap counts as `gapS` at most. */
function secondsAbove(mark: number, time: Float64Array, values: Float64Array, gapS: number): number {
  let seconds = 0;
  for (let i = 1, n = values.length; i < n; i++)
    if (values[i] >= mark) seconds += Math.min(gapS, time[i] - time[i - 1]);
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
  const fault = temperatureFault(drive, raw);
  if (fault !== undefined)
    return notAssessedFinding(id, `${name} temperature is not measured`, `${name} temperature ${fault}.`, [
      `Check the sensor, its plug and the mapping of ${channel}.`,
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
      `The highest level that ${name.toLowerCase()} held for ${HOLD_S} s with the engine running is ${withInterval(held.value, held.value - half, held.value + half, 'degC', limit)}, from ${formatQuantity(held.startS, 's')}${pull ? ` in pull ${pull.id}` : ''}; ${limitWords(limit)}.`,
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

function assess(drive: Drive, { limits }: AssessContext): Assessment {
  const hot = FLUIDS.map((fluid) => hotFinding(drive, fluid, limitOf(limits, fluid.id)));
  const at = FLUIDS.map((fluid) => [fluid, atPulls(drive, fluid)] as const);
  const cold = coldFinding(at);
  const seen = hot.filter((finding) => finding.verdict !== 'not-assessed');
  const logged = hot.filter((_, i) => drive.recording.channels.has(FLUIDS[i].channel));
  // A fluid that is logged and cannot be judged leaves the question open; one that is not logged does not.
  const open = logged.find((finding) => finding.verdict === 'not-assessed');
  const all = cold ? [...hot, cold] : hot;
  return {
    summary:
      seen.length > 0
        ? `${logged.map((finding) => finding.title).join('; ')}.`
        : 'Neither coolant nor oil temperature can be judged.',
    findings: open ? keptOpen(open, all) : all,
    needs: FLUIDS.filter(({ channel }) => !drive.recording.channels.has(channel)).map(({ channel }) => channel),
    tables:
      drive.pulls.length > 0 && seen.length > 0
        ? [
            pullTable(
              drive,
              at.map(([, pulls]) => pulls),
            ),
          ]
        : [],
  };
}

export const temperatures: Analyser = { meta, assess };
