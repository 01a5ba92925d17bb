import type { ChannelId } from './catalogue.ts';
import { type Concept, conceptsOf } from './guess-words.ts';

/** Names a channel may go by: what must be said (any one of each entry) and what may be said besides. */
interface NameRule {
  readonly id: ChannelId;
  readonly confidence: number;
  readonly all: readonly (readonly Concept[])[];
  readonly may?: readonly Concept[];
}

const PRESSURE_MAY: readonly Concept[] = ['absolute', 'gauge', 'air', 'engine'];

const RULES: readonly NameRule[] = [
  { id: 'engine_speed', confidence: 0.95, all: [['engine'], ['revs', 'speed']], may: ['revs', 'speed'] },
  { id: 'engine_speed', confidence: 0.85, all: [['revs']], may: ['revs'] },
  { id: 'vehicle_speed', confidence: 0.95, all: [['vehicle'], ['speed']], may: ['vehicle'] },
  { id: 'vehicle_speed', confidence: 0.8, all: [['speed']] },
  { id: 'throttle_position', confidence: 0.95, all: [['throttle'], ['position']], may: ['absolute'] },
  { id: 'throttle_position', confidence: 0.85, all: [['throttle']], may: ['absolute'] },
  {
    id: 'accelerator_position',
    confidence: 0.95,
    all: [
      ['pedal', 'accel'],
      ['position', 'pedal'],
    ],
    may: ['accel', 'gas'],
  },
  { id: 'accelerator_position', confidence: 0.85, all: [['pedal']] },
  {
    id: 'manifold_pressure',
    confidence: 0.95,
    all: [['manifold'], ['pressure', 'absolute']],
    may: [...PRESSURE_MAY, 'intake', 'pressure'],
  },
  { id: 'manifold_pressure', confidence: 0.9, all: [['manifold']], may: PRESSURE_MAY },
  { id: 'manifold_pressure', confidence: 0.9, all: [['boost']], may: [...PRESSURE_MAY, 'pressure', 'turbo'] },
  { id: 'manifold_pressure', confidence: 0.9, all: [['turbo'], ['pressure']], may: PRESSURE_MAY },
  { id: 'manifold_pressure', confidence: 0.85, all: [['intake'], ['pressure']], may: PRESSURE_MAY },
  { id: 'manifold_pressure', confidence: 0.8, all: [['charge'], ['pressure']], may: PRESSURE_MAY },
  {
    id: 'barometric_pressure',
    confidence: 0.95,
    all: [['barometric']],
    may: ['pressure', 'absolute', 'air', 'ambient'],
  },
  { id: 'barometric_pressure', confidence: 0.9, all: [['ambient'], ['pressure']], may: ['air', 'absolute'] },
  { id: 'barometric_pressure', confidence: 0.8, all: [['air'], ['pressure']] },
  { id: 'intake_air_temperature', confidence: 0.95, all: [['intake'], ['temperature']], may: ['air', 'manifold'] },
  { id: 'intake_air_temperature', confidence: 0.75, all: [['air'], ['temperature']] },
  { id: 'charge_air_temperature', confidence: 0.95, all: [['charge'], ['temperature']], may: ['air', 'intercooler'] },
  { id: 'charge_air_temperature', confidence: 0.85, all: [['boost'], ['temperature']], may: ['air'] },
  { id: 'charge_air_temperature', confidence: 0.7, all: [['cat']] },
  {
    id: 'charge_air_temperature',
    confidence: 0.9,
    all: [['behind'], ['intercooler', 'charge'], ['temperature']],
    may: ['air'],
  },
  { id: 'coolant_temperature', confidence: 0.95, all: [['coolant'], ['temperature']], may: ['liquid', 'engine'] },
  { id: 'coolant_temperature', confidence: 0.85, all: [['coolant']], may: ['liquid', 'engine'] },
  { id: 'oil_temperature', confidence: 0.95, all: [['oil'], ['temperature']], may: ['engine'] },
  { id: 'exhaust_gas_temperature', confidence: 0.9, all: [['exhaust'], ['temperature']], may: ['gas'] },
  { id: 'mass_air_flow', confidence: 0.95, all: [['mass'], ['air', 'flow']], may: ['flow', 'air'] },
  { id: 'mass_air_flow', confidence: 0.8, all: [['air'], ['flow']] },
  { id: 'calculated_load', confidence: 0.9, all: [['calculated'], ['load']], may: ['engine'] },
  { id: 'calculated_load', confidence: 0.7, all: [['load']], may: ['engine'] },
  { id: 'absolute_load', confidence: 0.9, all: [['absolute'], ['load']], may: ['engine'] },
  { id: 'fuel_system_status', confidence: 0.9, all: [['fuel'], ['status']], may: ['loop', 'system'] },
  { id: 'fuel_system_status', confidence: 0.75, all: [['loop']], may: ['status', 'fuel', 'loop'] },
  { id: 'fuel_rail_pressure', confidence: 0.9, all: [['fuel', 'rail'], ['pressure']], may: ['rail', 'gauge'] },
  { id: 'fuel_rail_pressure', confidence: 0.7, all: [['rail']], may: ['fuel'] },
  {
    id: 'injector_pulse_width',
    confidence: 0.9,
    all: [['injection'], ['time', 'pulse']],
    may: ['width', 'pulse', 'fuel'],
  },
  { id: 'injector_pulse_width', confidence: 0.85, all: [['pulse']], may: ['width'] },
  { id: 'injector_duty', confidence: 0.9, all: [['injection'], ['duty', 'cycle']], may: ['cycle', 'fuel'] },
  { id: 'injector_duty', confidence: 0.8, all: [['injection'], ['share']], may: ['time', 'width', 'fuel'] },
  { id: 'ethanol_content', confidence: 0.9, all: [['ethanol']], may: ['content', 'fuel', 'percent'] },
  { id: 'ethanol_content', confidence: 0.8, all: [['fuel'], ['content']], may: ['content'] },
  { id: 'lambda', confidence: 0.9, all: [['lambda']], may: ['lambda', 'ratio'] },
  { id: 'lambda', confidence: 0.9, all: [['air'], ['fuel'], ['ratio']] },
  { id: 'spark_advance', confidence: 0.9, all: [['ignition'], ['advance', 'position']], may: ['ignition', 'advance'] },
  { id: 'spark_advance', confidence: 0.85, all: [['ignition']], may: ['ignition'] },
  { id: 'spark_advance', confidence: 0.85, all: [['advance']] },
  { id: 'knock_retard', confidence: 0.9, all: [['knock'], ['retard', 'correction']], may: ['ignition', 'correction'] },
  { id: 'knock_retard', confidence: 0.9, all: [['ignition'], ['retard']], may: ['ignition', 'knock'] },
  { id: 'knock_retard', confidence: 0.65, all: [['ignition'], ['correction']], may: ['ignition'] },
  {
    id: 'wastegate_duty',
    confidence: 0.9,
    all: [['wastegate'], ['duty', 'cycle']],
    may: ['cycle', 'actuator', 'wastegate'],
  },
  {
    id: 'wastegate_duty',
    confidence: 0.85,
    all: [['boost'], ['actuator'], ['duty', 'cycle']],
    may: ['cycle', 'actuator'],
  },
  { id: 'wastegate_duty', confidence: 0.75, all: [['wastegate']], may: ['actuator', 'wastegate'] },
  {
    id: 'battery_voltage',
    confidence: 0.9,
    all: [['battery', 'system'], ['voltage']],
    may: ['actuator', 'battery', 'system'],
  },
  { id: 'battery_voltage', confidence: 0.75, all: [['battery']] },
  { id: 'battery_voltage', confidence: 0.7, all: [['voltage']] },
  { id: 'gear', confidence: 0.9, all: [['gear']], may: ['position', 'engaged', 'count'] },
  { id: 'misfire_count', confidence: 0.9, all: [['misfire']], may: ['count'] },
  { id: 'trouble_code_count', confidence: 0.9, all: [['code'], ['count']], may: ['code'] },
  { id: 'malfunction_lamp', confidence: 0.68, all: [['lamp']], may: ['status'] },
  {
    id: 'malfunction_lamp',
    confidence: 0.9,
    all: [['malfunction'], ['lamp']],
    may: ['engine', 'malfunction', 'status'],
  },
];

const TRIM_ALL: readonly Concept[] = ['short', 'long', 'term', 'trim', 'fuel', 'correction', 'lambda'];

export interface ConceptMatch {
  readonly id: ChannelId;
  readonly confidence: number;
  readonly isTarget: boolean;
}

function covers(rule: NameRule, said: ReadonlySet<Concept>): boolean {
  const wanted = rule.all.flat();
  return (
    rule.all.every((any) => any.some((concept) => said.has(concept))) &&
    [...said].every((concept) => wanted.includes(concept) || (rule.may?.includes(concept) ?? false))
  );
}

/** Fuel trims: short or long, and the bank where the name tells one. */
function trimOf(said: ReadonlySet<Concept>, bank: number | undefined): Omit<ConceptMatch, 'isTarget'> | undefined {
  const short = said.has('short');
  if (short === said.has('long') || (bank ?? 1) > 2) return undefined;
  if (!(said.has('trim') || (said.has('term') && said.has('fuel')) || (said.has('fuel') && said.has('correction')))) {
    return undefined;
  }
  if (![...said].every((concept) => TRIM_ALL.includes(concept))) return undefined;
  const id = `${short ? 'short' : 'long'}_term_fuel_trim_${bank ?? 1}` as ChannelId;
  return { id, confidence: bank === undefined ? 0.85 : 0.92 };
}

/** Retard of one cylinder. A correction of a single cylinder's timing is what knock control does, and nothing else. */
function cylinderRetardOf(said: ReadonlySet<Concept>, cylinder: number): Omit<ConceptMatch, 'isTarget'> | undefined {
  const rule = RULES.find((one) => one.id === 'knock_retard' && covers(one, said));
  if (!rule || cylinder < 1 || cylinder > 12) return undefined;
  return { id: `knock_retard_${cylinder}` as ChannelId, confidence: Math.max(rule.confidence, 0.75) };
}

const wordsAndNumber = (words: readonly string[]) => {
  const split = words.flatMap((word) => /^(\p{L}+)(\d{1,2})$/u.exec(word)?.slice(1) ?? [word]);
  const numbers = split.filter((word) => /^\d+$/.test(word)).map(Number);
  return { texts: split.filter((word) => !/^\d+$/.test(word)), numbers };
};

/** The channel that the words of a name stand for in any of the languages, in any order; every word must be understood. */
export function channelByConcepts(words: readonly string[]): ConceptMatch | undefined {
  const { texts, numbers } = wordsAndNumber(words);
  if (texts.length === 0 || numbers.length > 1) return undefined;
  const [number] = numbers;
  const concepts = conceptsOf(texts);
  if (!concepts) return undefined;
  const said = new Set(concepts.filter((concept) => concept !== 'filler'));
  const isTarget = said.delete('target');
  said.delete('bank');
  said.delete('cylinder');
  const trim = trimOf(said, number);
  if (trim) return { ...trim, isTarget };
  if (number !== undefined) {
    const retard = cylinderRetardOf(said, number);
    if (retard) return { ...retard, isTarget };
    if (number !== 1) return undefined;
  }
  const matches = RULES.filter((rule) => covers(rule, said)).sort((a, b) => b.confidence - a.confidence);
  return matches[0] && { id: matches[0].id, confidence: matches[0].confidence, isTarget };
}
