// Question: is the engine pulling timing, on which cylinder, again in the same place?
// Knock control takes spark advance back at once and gives it back slowly; seen again in the same place it means that the base timing is
// beyond the fuel, or that one cylinder differs. Torque management and temperature compensation retard too, and are told apart by shape,
// by what throttle and gear do, and by whether all cylinders share it.
import { limitOf } from '../build-sheet/limit.ts';
import type { ChannelId } from '../channels/catalogue.ts';
import type { Drive } from '../drive/drive.ts';
import { DROP_NEEDS_HZ } from '../drive/retard/from-advance.ts';
import { type Retard, retardOf } from '../drive/retard/series.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { DataTable, Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { surroundings } from './timing-pull-causes.ts';
import { PEAK, peakFinding } from './timing-pull-peak.ts';
import { REPEAT, repeatFinding } from './timing-pull-repeat.ts';
import { managementFinding, offsetFinding, signFinding, temperatureFinding } from './timing-pull-told.ts';
import { notAssessedFinding } from './wording.ts';

const NO_SOURCE = 'common practice, no source';
const BY_CYLINDER = Array.from({ length: 12 }, (_, i) => `knock_retard_${i + 1}` as ChannelId);

const meta: AnalyserMeta = {
  id: 'timing-pull',
  title: 'Timing pull',
  question: 'Is the engine pulling timing, on which cylinder, again in the same place?',
  needs: [['engine_speed'], [...BY_CYLINDER, 'knock_retard', 'spark_advance']],
  helps: [
    ...BY_CYLINDER,
    'spark_advance_target',
    'throttle_position',
    'manifold_pressure',
    'charge_air_temperature',
    'lambda',
  ],
  formula:
    'retard (°) above its resting level, by cylinder; else for the engine; else target minus actual advance; else a drop of 3° or more of advance within a smooth pull (common practice, no source)',
  physics:
    'Knock is end gas that burns by itself before the flame gets there; its pressure waves strip the boundary layer and destroy pistons and rings. ' +
    'The controller hears it, takes spark back by degrees at once and gives it back over seconds. ' +
    'Each degree of retard costs torque and heats the exhaust; the same degree at the same engine speed in every pull is a calibration fault, not chance.',
  limits: [
    { id: PEAK, title: 'Largest knock retard in a pull', unit: 'deg', warn: 2, fail: 5, source: NO_SOURCE },
    {
      id: REPEAT,
      title: 'Knock retard of one cylinder in one engine speed band, in two pulls or more',
      unit: 'deg',
      warn: undefined,
      fail: 3,
      source: NO_SOURCE,
    },
  ],
  cannotSee: [
    'Knock that the sensor did not hear, and knock control that is switched off.',
    'Which cylinder knocked, where only one number for the engine is logged.',
    'Real knock from noise: only a plug, a borescope or a pressure trace can.',
  ],
  cautions: ['Repeated knock destroys pistons within seconds at high boost: stop the pull when retard builds up.'],
};

const MOST_EVENTS = 60;

function eventTable(drive: Drive, { events }: Retard): DataTable {
  return {
    id: 'timing-pull.events',
    title: events.length > MOST_EVENTS ? `Retard events (first ${MOST_EVENTS} of ${events.length})` : 'Retard events',
    columns: [
      { name: 'where', unit: '' },
      { name: 'pull', unit: '' },
      { name: 'start', unit: 's' },
      { name: 'end', unit: 's' },
      { name: 'retard', unit: 'deg' },
      { name: 'engine speed', unit: 'rpm' },
      { name: 'boost', unit: 'kPa' },
      { name: 'charge', unit: 'degC' },
      { name: 'lambda', unit: 'ratio' },
      { name: 'reading', unit: '' },
    ],
    rows: events.slice(0, MOST_EVENTS).map((event) => {
      const { boostKpa = null, chargeC = null, lambda = null } = surroundings(drive, event);
      const reading = event.kind === 'knock' ? `knock retard, ${event.shape}` : `${event.kind}: ${event.why ?? ''}`;
      return [
        event.track.label,
        event.pull ? String(event.pull.id) : '-',
        event.onsetS,
        event.endS,
        event.peakDeg,
        event.peakRpm,
        boostKpa,
        chargeC,
        lambda,
        reading,
      ];
    }),
  };
}

/** Highest knock retard by track and pull. */
function peakTable({ tracks, judgedPulls, events }: Retard): DataTable {
  return {
    id: 'timing-pull.peaks',
    title: 'Largest knock retard by cylinder and pull',
    columns: [{ name: 'where', unit: '' }, ...judgedPulls.map((pull) => ({ name: `pull ${pull.id}`, unit: 'deg' }))],
    rows: tracks.map((track) => [
      track.label,
      ...judgedPulls.map((pull) =>
        events
          .filter((event) => event.kind === 'knock' && event.track === track && event.pull === pull)
          .reduce((highest, event) => Math.max(highest, event.peakDeg), 0),
      ),
    ]),
  };
}

const open = (finding: Finding, needs: readonly string[], findings: readonly Finding[] = []): Assessment => ({
  summary: `${finding.title}.`,
  findings: [finding, ...findings],
  needs,
  tables: [],
});

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const limit = limitOf(limits, PEAK);
  const { channels } = drive.recording;
  if (!channels.has('engine_speed')) {
    return open(
      notAssessedFinding(PEAK, 'Timing pull needs engine speed', 'Engine speed is not logged.', ['Log engine speed.']),
      ['engine_speed'],
    );
  }
  const retard = retardOf(drive, build);
  if (retard.tracks.length === 0) {
    const advance = channels.get('spark_advance');
    const why = advance
      ? `Neither retard nor target advance is logged, and advance itself has no ${DROP_NEEDS_HZ} updates a second, which a sudden drop would need.`
      : 'Neither retard nor advance is logged.';
    return open(
      notAssessedFinding(PEAK, 'Pulled timing is not logged', why, [
        'Log knock retard by cylinder, or target and actual advance.',
      ]),
      ['knock_retard_1 … knock_retard_12', 'knock_retard', 'spark_advance and spark_advance_target'],
    );
  }
  if (retard.judgedPulls.length === 0) {
    const why =
      drive.pulls.length === 0
        ? 'The log holds no full-load pull.'
        : `No pull can be judged: ${drive.pulls.map((p) => (p.fitness.timing.ok ? `pull ${p.id} is not usable` : `pull ${p.id}: ${p.fitness.timing.why}`)).join('; ')}.`;
    const others = retard.events.length > 0 ? ` ${retard.events.length} retard events lie elsewhere.` : '';
    return {
      ...open(
        notAssessedFinding(PEAK, 'No pull shows timing', why + others, [
          'Drive a full-load pull in one gear to near the redline.',
        ]),
        ['a full-load pull'],
      ),
      tables: retard.events.length > 0 ? [eventTable(drive, retard)] : [],
    };
  }
  const asked = new Set(retard.signs.map((sign) => sign.channel));
  const tracks = retard.tracks.filter(
    ({ cylinder, basis }) =>
      !(basis === 'cylinder' && asked.has(`knock_retard_${cylinder}` as ChannelId)) &&
      !(basis === 'global' && asked.has('knock_retard')),
  );
  const sign = signFinding(retard.signs, limit);
  if (tracks.length === 0) {
    const finding = notAssessedFinding(
      PEAK,
      'The sign of retard is in question',
      'Every retard channel only goes below zero, so none of them can be judged.',
      ['Set "scale": -1 for the retard channels in the mapping and run again.'],
    );
    return open(finding, ['"scale": -1 on the retard channels of the mapping'], sign ? [sign] : []);
  }
  const input = { drive, retard, tracks, limit, cylinders: build.engine.cylinders };
  const peak = peakFinding(input);
  const repeat = repeatFinding(input, limitOf(limits, REPEAT));
  const findings = [
    peak,
    repeat,
    sign,
    offsetFinding(input),
    temperatureFinding(input),
    managementFinding(input),
  ].filter((finding) => finding !== undefined);
  const slow = peak.verdict === 'not-assessed';
  return {
    summary: `${repeat.verdict === 'fail' ? repeat.title : peak.title}.`,
    findings: keptOpen(peak, findings),
    needs: slow
      ? ['a faster log of retard (4 Hz or more)']
      : tracks[0].basis === 'cylinder'
        ? []
        : ['knock_retard_1 … knock_retard_12 (to tell which cylinder)'],
    tables: [peakTable(retard), ...(retard.events.length > 0 ? [eventTable(drive, retard)] : [])],
  };
}

export const timingPull: Analyser = { meta, assess };
