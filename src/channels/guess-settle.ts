import { median } from '../signal/median.ts';
import type { PressureReference } from '../units/recognise-unit.ts';
import { type ChannelId, channelEntry } from './catalogue.ts';
import { dimensionOfChannel, isFuelTrim, isStatusLike } from './channel-kind.ts';
import type { Candidate, Question } from './guess-candidates.ts';
import type { Evidence, Trace } from './guess-evidence.ts';
import { foldedName } from './guess-name.ts';
import { retardSign, seldomMoves, turned } from './guess-sign.ts';
import type { TemperatureReading } from './guess-temperature-unit.ts';
import { coolantUnit } from './guess-temperature-unit.ts';
import { type UnitContext, unitByData } from './guess-unit.ts';
import { headerUnit, referenceByName } from './header-unit.ts';
import type { Pressure } from './pressure-reference.ts';
import { referenceByData } from './pressure-reference.ts';

/** Below this a guess becomes a question. */
export const LEAST_CONFIDENCE = 0.6;

/** What one candidate came to: a guess with its source complete, or a question, and what to tell. */
export type Settled = { readonly guess: Candidate; readonly note?: string } | { readonly question: Question };

const question = ({ column, channel, confidence }: Candidate, ask: string): Settled => ({
  question: { column: column.name, channel, confidence, ask },
});

const hasUnit = ({ channel, column }: Candidate) => {
  const found = headerUnit(channel, column);
  return found !== undefined && 'unit' in found;
};

/** Names that say retard outright need no proof by the values; a mere correction does. */
const SURE_OF_RETARD = 0.7;

function settleRetard(candidate: Candidate, trace: Trace): Settled {
  const { column, channel, confidence, source } = candidate;
  const sign = retardSign(trace);
  if (sign.kind === 'open') {
    return question(
      candidate,
      `"${column.name}" goes above and below zero, so which way is retard is not guessed; ${channel} is left out. Map it with "scale": 1 or -1.`,
    );
  }
  const isMereCorrection = confidence < SURE_OF_RETARD;
  if (isMereCorrection && !(sign.kind !== 'unseen' && seldomMoves(trace))) {
    return question(
      candidate,
      `"${column.name}" may be knock retard or another correction, and its values do not tell; ${channel} is left out. Map it if it is retard.`,
    );
  }
  const sure = isMereCorrection ? { confidence: 0.65, why: `${candidate.why}, and it moves seldom and one way` } : {};
  if (sign.kind !== 'turned') return { guess: { ...candidate, ...sure } };
  return {
    guess: { ...candidate, ...sure, source: turned(source) },
    note: `"${column.name}" only goes below zero; read as retard with its sign turned.`,
  };
}

/** A name that says lambda over values of an air-fuel ratio, or the other way round: the values decide. */
function otherMixture(candidate: Candidate, { values }: Trace): 'AFR' | 'lambda' | undefined {
  const header = headerUnit(candidate.channel, candidate.column);
  if (!header || 'wrong' in header || values.length === 0) return undefined;
  const usual = median(values);
  if (header.unit.unit === 'lambda' && usual > 6 && usual < 25) return 'AFR';
  return header.unit.unit === 'AFR' && usual > 0.03 && usual < 0.12 ? 'lambda' : undefined;
}

function settleUnit(candidate: Candidate, trace: Trace, context: UnitContext): Settled {
  const { channel, column, source, why } = candidate;
  const mixture = dimensionOfChannel(channel) === 'mixture' ? otherMixture(candidate, trace) : undefined;
  if (mixture) {
    const note = `"${column.name}" is called otherwise, but its values are those of ${mixture === 'AFR' ? 'an air-fuel ratio' : 'lambda'}; read as ${mixture}.`;
    return {
      guess: { ...candidate, why: `${why}; its values are ${mixture}`, source: { ...source, unit: mixture } },
      note,
    };
  }
  if (hasUnit(candidate) || isStatusLike(channel)) return { guess: candidate };
  const reading = unitByData(channel, trace, context);
  if (!reading) {
    const canonical = channelEntry(channel).unit;
    return question(
      candidate,
      `"${column.name}" has no unit and its values do not prove ${canonical}; ${channel} is left out. State its unit in a mapping.`,
    );
  }
  const { unit, reference, why: shown } = reading;
  if (unit === undefined) return { guess: candidate };
  const against = reference === undefined ? '' : ` ${reference}`;
  return {
    guess: {
      ...candidate,
      why: `${why}; ${shown}`,
      source: { ...source, unit, ...(reference && { reference }) },
    },
    note: `"${column.name}" has no unit; read as ${unit}${against}: ${shown}.`,
  };
}

/** Gauge or absolute must show in name, unit or data; kilopascals alone do not prove it. */
export function settleReference(
  candidate: Candidate,
  draft: Pressure,
  engine: Pressure | undefined,
  manifold: PressureReference | undefined,
): Settled {
  const { channel, column, source } = candidate;
  const told = source.reference ?? draft.unit.unit.reference ?? referenceByName(channel, column.name);
  if (told !== undefined) return { guess: candidate };
  const shown =
    channel === 'manifold_pressure_target' && manifold !== undefined ? undefined : referenceByData(draft, engine);
  if (shown) {
    return {
      guess: {
        ...candidate,
        why: `${candidate.why}; ${shown.note ?? ''}`,
        source: { ...source, reference: shown.reference },
      },
    };
  }
  if (manifold !== undefined) return { guess: { ...candidate, source: { ...source, reference: manifold } } };
  const isMap = draft.unit.unit.unit === 'kPa' && /^map\b|manifold/.test(foldedName(column.name));
  if (isMap) return { guess: candidate };
  return question(
    candidate,
    `"${column.name}" may be gauge or absolute and neither its header nor the log tells; ${channel} is left out. Map it with "reference".`,
  );
}

const isRetard = (id: ChannelId) => id.startsWith('knock_retard');

/** One candidate with its unit and sign; a guess that is not sure enough becomes a question. */
export function settle(candidate: Candidate, trace: Trace, context: UnitContext): Settled {
  const { channel, column, confidence } = candidate;
  if (isRetard(channel)) return settleRetard(candidate, trace);
  if (confidence < LEAST_CONFIDENCE) {
    return question(
      candidate,
      `"${column.name}" may be ${channel}, but its name does not say enough. Map it if it is.`,
    );
  }
  if (channel === 'malfunction_lamp' && confidence < SURE_OF_LAMP) return settleLamp(candidate, trace);
  if (
    channel === 'charge_air_temperature' &&
    confidence < SURE_OF_CHARGE &&
    isHotterThanCharge(candidate, trace, context)
  ) {
    return question(candidate, `"${column.name}" is too hot for ${channel}; it may be the catalyst. It is left out.`);
  }
  return settleUnit(candidate, trace, context);
}

const SURE_OF_LAMP = 0.8;

/** A lamp without a word of which: in an engine's log it is the malfunction lamp where it is only ever on or off. */
function settleLamp(candidate: Candidate, { values }: Trace): Settled {
  const name = candidate.column.name;
  if (values.length === 0 || values.some((value) => value !== 0 && value !== 1)) {
    return question(candidate, `"${name}" may be malfunction_lamp, but it is not only 0 and 1. Map it if it is.`);
  }
  return { guess: candidate, note: `"${name}" is taken as the malfunction lamp; map it otherwise if it is another.` };
}

const SURE_OF_CHARGE = 0.75;
/** Charge air stays below, a catalyst at work does not. */
const CHARGE_MOST_C = 150;

function isHotterThanCharge(candidate: Candidate, { values }: Trace, { temperature }: UnitContext): boolean {
  const isCelsius = hasUnit(candidate) || temperature?.unit !== 'degF';
  return values.some((value) => (isCelsius ? value : ((value - 32) * 5) / 9) > CHARGE_MOST_C);
}

/** The unit that temperatures without one share: that of the coolant, else of the first temperature whose header has one. */
function temperatureOf(chosen: readonly Candidate[], evidence: Evidence): TemperatureReading | undefined {
  for (const candidate of chosen) {
    if (dimensionOfChannel(candidate.channel) !== 'temperature') continue;
    const found = headerUnit(candidate.channel, candidate.column);
    if (!found || 'wrong' in found) continue;
    const { unit } = found.unit;
    if (unit === 'degC' || unit === 'degF' || unit === 'K')
      return { unit, why: `"${candidate.column.name}" is in ${unit}` };
  }
  const coolant = evidence.get('coolant_temperature');
  return coolant && coolantUnit(coolant);
}

/** What the log as a whole tells of units. */
export function unitContext(
  chosen: readonly Candidate[],
  evidence: Evidence,
  manifold: UnitContext['manifold'],
): UnitContext {
  const trims = chosen
    .filter((candidate) => isFuelTrim(candidate.channel) && !hasUnit(candidate))
    .flatMap(({ channel }) => evidence.get(channel) ?? []);
  return { evidence, temperature: temperatureOf(chosen, evidence), trims, manifold };
}
