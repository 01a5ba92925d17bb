// Question: can each channel be believed?
// Every other verdict rests on the channels. A sensor that stands still, is dead, at the end of its range, outside what can be, or against
// another that measures the same makes a wrong verdict from a right formula. Each check names what the channel would have to do, and when.
import type { ChannelId } from '../channels/catalogue.ts';
import type { Drive } from '../drive/drive.ts';
import { meterAgainstManifold } from '../drive/health/airflow.ts';
import { deadChannels } from '../drive/health/dead.ts';
import { disconnectedChannels } from '../drive/health/disconnected.ts';
import type { Check } from '../drive/health/doubt.ts';
import { frozenChannels } from '../drive/health/frozen.ts';
import { implausibleChannels } from '../drive/health/implausible.ts';
import { jumpingChannels } from '../drive/health/jumps.ts';
import { mixtureLag } from '../drive/health/lag.ts';
import { dutyAgainstPulseWidth, keyOnAgainstBarometric, pedalAgainstThrottle } from '../drive/health/pairs.ts';
import { roadSpeedAgainstGears } from '../drive/health/road-speed.ts';
import { saturatedChannels } from '../drive/health/saturated.ts';
import { coldSoak } from '../drive/health/soak.ts';
import { stuckByLoad } from '../drive/health/stuck.ts';
import { stuckBySpeed } from '../drive/health/stuck-speed.ts';
import { trimsAtEnd } from '../drive/health/trim-ends.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { lagFinding, type Topic, topicFinding } from './sensor-health-findings.ts';
import { unitsFinding } from './sensor-health-units.ts';
import { notAssessedFinding } from './wording.ts';

const meta: AnalyserMeta = {
  id: 'sensor-health',
  title: 'Sensor health',
  question: 'Can each channel be believed?',
  needs: [],
  helps: [
    'engine_speed',
    'accelerator_position',
    'throttle_position',
    'manifold_pressure',
    'barometric_pressure',
    'injector_pulse_width',
    'lambda',
    'gear',
    'vehicle_speed',
  ],
  formula:
    'stuck: the same reading shut and wide open; saturated: readings alike at the end of a range; implausible: outside the range of the catalogue; ' +
    'pairs: two channels that measure one thing, apart by more than both can err; lag (s): time from fuel cut to half of the way of lambda to its lean end',
  physics:
    'A channel is believed because it does what the car makes it do: manifold pressure falls when the throttle shuts, airflow follows displacement, speed and density, ' +
    'lambda goes lean when the fuel is cut. A one-byte manifold pressure ends at 255 kPa absolute (SAE J1979), so that boost beyond it is unknown. ' +
    'A channel that does not follow is told with the time ranges in which it did not.',
  limits: [],
  cannotSee: [
    'A sensor that follows the car but reads a little high or low.',
    'Channels with no second witness and nothing they must follow: retard, ethanol content, counters, warm coolant.',
    'A fault outside the minutes that were logged.',
  ],
  cautions: [
    'A sensor that cannot be believed hides real danger as easily as it shows a false one: mend it before the next full-load pull.',
  ],
};

const TOPICS = {
  stuck: {
    id: 'sensor-health.stuck',
    clean: 'Stuck channels: none',
    detectable:
      'A channel that must follow load and reads the same for 1 s shut and 1 s wide open; engine speed that stands still for 5 s while the car moves; manifold or rail pressure, airflow, pulse width or lambda that freezes for 1 s in a pull, where its noise tells.',
    unchecked:
      'Neither pedal, throttle nor load moved far enough with engine speed logged, so the log never shows what a channel would have had to follow.',
  },
  dead: {
    id: 'sensor-health.dead',
    clean: 'Dead channels: none',
    detectable: 'A channel without a value, or one that never leaves the end at which it is dead.',
    unchecked: 'No channel was left to check.',
  },
  saturated: {
    id: 'sensor-health.saturated',
    clean: 'Channels at the end of their range: none',
    detectable:
      'Manifold pressure for 3 readings at 255 kPa; 0.5 s of readings exactly alike at the outermost value where the noise rules that out; a trim 5 s at its end.',
    unchecked: 'The log holds no full-load pull and no trim, where ends of ranges would show.',
  },
  implausible: {
    id: 'sensor-health.implausible',
    clean: 'Implausible readings: none',
    detectable: 'One reading outside the plausible range of its channel, one jump that the quantity cannot make.',
    unchecked: 'No channel was left to check.',
  },
  disagreement: {
    id: 'sensor-health.disagreement',
    clean: 'Disagreeing channels: none',
    detectable:
      'Throttle below 50 % for 1.5 s at full pedal above 2,500 rpm; 4 kPa between manifold and air pressure at rest; a volumetric efficiency outside 0.6 to 1.3; engine and road speed 15 % apart.',
    unchecked: 'No two channels of this log measure the same thing in a state that was driven.',
  },
  disconnected: {
    id: 'sensor-health.disconnected',
    clean: 'Disconnected channels: as listed',
    detectable: 'A listed channel that follows the engine.',
    unchecked: 'The build sheet lists no channel as disconnected.',
  },
} as const satisfies Record<string, Topic>;

const UNDISPUTED = new Set<Finding['verdict']>(['pass', 'not-assessed']);

function summaryOf(findings: readonly Finding[]): string {
  const grave = findings.filter(({ verdict }) => !UNDISPUTED.has(verdict));
  if (grave.length > 0)
    return `${grave
      .toSorted((a, b) => (a.verdict < b.verdict ? -1 : 1))
      .map(({ title }) => title)
      .join('. ')}.`;
  return findings.some(({ verdict }) => verdict === 'pass')
    ? 'No channel gives reason to doubt it.'
    : 'Too few readings to tell whether a channel can be believed.';
}

/** With fewer readings of any channel, that nothing was found says nothing. */
const FEWEST_READINGS = 10;

const hasFewReadings = ({ recording }: Drive): boolean =>
  [...recording.channels.values()].every(({ values }) => values.length < FEWEST_READINGS);

const notByFewReadings = (finding: Finding): Finding =>
  finding.verdict === 'pass'
    ? notAssessedFinding(
        finding.id,
        `${finding.title.split(':')[0]}: not checked`,
        `No channel has ${FEWEST_READINGS} readings: too few to tell.`,
        ['Record a whole base run: idle, cruise and a few pulls.'],
      )
    : finding;

const PAIR_NEEDS = [
  'accelerator_position and throttle_position',
  'barometric_pressure and a few seconds of key-on before the start',
];

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const listed = new Set(build.expect.disconnected);
  const isListed = (id: ChannelId) => listed.has(id);
  const dead = deadChannels(drive, build, isListed);
  const silent = new Set(dead.doubts.flatMap(({ channels }) => channels));
  const isSilent = (id: ChannelId) => isListed(id) || silent.has(id);
  const implausible = implausibleChannels(drive, isSilent);
  const wrong = new Set(
    implausible.doubts.filter(({ gravity }) => gravity === 'fail').flatMap(({ channels }) => channels),
  );
  const isOut = (id: ChannelId) => isSilent(id) || wrong.has(id);
  const stuck = [stuckByLoad(drive, isOut), stuckBySpeed(drive, isOut)];
  const still = new Set(stuck.flatMap(({ doubts }) => doubts).flatMap(({ channels }) => channels));
  const isUseless = (id: ChannelId) => isOut(id) || still.has(id);
  const dutyApart = limits.get('injector-duty.agreement')?.warn ?? 5;
  const pairs: Check[] = [
    pedalAgainstThrottle(drive, isUseless),
    keyOnAgainstBarometric(drive, build, isUseless),
    dutyAgainstPulseWidth(drive, build, dutyApart, isUseless),
    meterAgainstManifold(drive, build, isUseless),
    roadSpeedAgainstGears(drive, build, isUseless),
    coldSoak(drive, isUseless),
  ];
  const lag = isUseless('lambda') ? undefined : mixtureLag(drive);
  const findings: Finding[] = [
    topicFinding(drive, TOPICS.stuck, [...stuck, frozenChannels(drive, isUseless)]),
    topicFinding(drive, TOPICS.dead, [dead]),
    topicFinding(drive, TOPICS.saturated, [saturatedChannels(drive, isUseless), trimsAtEnd(drive, isOut)]),
    topicFinding(drive, TOPICS.implausible, [implausible, jumpingChannels(drive, isOut)]),
    topicFinding(drive, TOPICS.disagreement, pairs),
    unitsFinding(drive),
    ...(listed.size > 0 ? [topicFinding(drive, TOPICS.disconnected, [disconnectedChannels(drive, build)])] : []),
    ...(lag ? [lagFinding(drive, lag)] : []),
  ];
  const told = hasFewReadings(drive) ? findings.map(notByFewReadings) : findings;
  const unchecked = told.filter(({ verdict }) => verdict === 'not-assessed').map(({ id }) => id);
  return {
    summary: summaryOf(told),
    findings: told,
    needs: [
      ...(unchecked.includes(TOPICS.stuck.id) ? ['engine_speed', 'accelerator_position or throttle_position'] : []),
      ...(unchecked.includes(TOPICS.disagreement.id) ? PAIR_NEEDS : []),
    ],
    tables: [],
  };
}

export const sensorHealth: Analyser = { meta, assess };
