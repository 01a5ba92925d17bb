// Question: does rail pressure hold the differential?
// An injector passes fuel with the square root of the pressure across it: a tenth less pressure is a twentieth less fuel, which is all the margin there is.
// Fall = 1 − actual / expected; expected is the target, else the idle differential (in a log of pulls alone: the set pressure) carried on as the regulator in the car does.
import { limitOf } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { railDrop } from '../drive/rail/drop.ts';
import { judgedRail } from '../drive/rail/judged.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { FROZEN_NEXT, livePulls } from './frozen-pulls.ts';
import { BASE, baseFinding, regulatorFinding } from './fuel-pressure-asides.ts';
import { DROP, dropFinding } from './fuel-pressure-drop.ts';
import { dropTable, withinAll } from './fuel-pressure-words.ts';
import { keptOpen } from './kept-open.ts';
import { notAssessedFinding } from './wording.ts';

const NO_SOURCE = 'common practice, no source';

const kpa = (value: number) => formatQuantity(value, 'kPa');

const meta: AnalyserMeta = {
  id: 'fuel-pressure',
  title: 'Fuel pressure',
  question: 'Does rail pressure hold the differential?',
  needs: [['fuel_rail_pressure'], ['engine_speed']],
  helps: ['manifold_pressure', 'fuel_rail_pressure_target', 'battery_voltage', 'barometric_pressure'],
  formula:
    'differential (kPa) = rail (gauge) + barometric − manifold pressure (absolute); fall (%) = 100 × (1 − actual / expected); flow (share of that at idle) = √(differential / differential at idle)',
  physics:
    'The injector meters time, not fuel: what passes in that time goes with the square root of the pressure across it. ' +
    'A manifold-referenced regulator adds boost to the rail and keeps that pressure; a fixed one does not, so boost takes from it. ' +
    'A pump at its end gives way just where flow and pressure are highest, and the mixture leans out there.',
  limits: [
    {
      id: DROP,
      title: 'Below target or the idle differential, at full load',
      unit: '%',
      warn: 6,
      fail: 12,
      source: NO_SOURCE,
    },
    {
      id: BASE,
      title: 'Pressure at rest against the build sheet',
      unit: '%',
      warn: 10,
      fail: undefined,
      source: NO_SOURCE,
    },
  ],
  cannotSee: [
    'Pulsation in the rail and the pressure at the far injector.',
    'A blocked injector: pressure before it holds.',
    'What the pump would do at flows that were not driven.',
  ],
  cautions: [
    'Falling fuel pressure leans the mixture at the top of the pull: lift, and do not repeat it. Fuel under pressure burns.',
  ],
};

const open = (finding: Finding, needs: readonly string[]): Assessment => ({
  summary: `${finding.title}.`,
  findings: [finding],
  needs,
  tables: [],
});

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const limit = limitOf(limits, DROP);
  const judged = judgedRail(drive, build);
  const title = 'Fuel pressure under load is not known';
  if (!judged) {
    return open(
      notAssessedFinding(DROP, title, 'Fuel rail pressure is not logged.', [
        'Log fuel_rail_pressure and manifold_pressure at 10 Hz or more.',
      ]),
      ['fuel_rail_pressure'],
    );
  }
  const usable = drive.pulls.filter((pull) => pull.usable);
  if (usable.length === 0) {
    return open(
      notAssessedFinding(
        DROP,
        'No pull shows fuel pressure under load',
        drive.pulls.length === 0 ? 'The log holds no full-load pull.' : 'No pull is long enough to be judged.',
        ['Drive a full-load pull in one gear to near the redline.'],
      ),
      ['a full-load pull'],
    );
  }
  const channel = drive.recording.channels.get('fuel_rail_pressure');
  if (channel && channel.max === channel.min) {
    return open(
      notAssessedFinding(
        DROP,
        'Logged fuel pressure stands still',
        `Every reading is ${kpa(channel.min)}: a working sensor moves a little at least.`,
        ['Check the sensor, its plug and the mapping of fuel_rail_pressure.'],
      ),
      ['fuel_rail_pressure'],
    );
  }
  const { rail, dropouts, regulator, reference, by, restsOn } = judged;
  if ('missing' in by) {
    return open(
      notAssessedFinding(
        DROP,
        title,
        `Rail pressure alone does not say what it should be: ${by.missing.join(' or ')} is missing.`,
        [`Log ${by.missing[0]} as well.`],
      ),
      by.missing,
    );
  }
  const live = livePulls(drive, usable, restsOn, (pull) => pull);
  if (live.pulls.length === 0) {
    return open(notAssessedFinding(DROP, title, live.said.join(' '), [FROZEN_NEXT]), restsOn);
  }
  const mark = limit.warn ?? limit.fail ?? Number.POSITIVE_INFINITY;
  const drops = live.pulls
    .map((pull) =>
      railDrop(
        rail,
        pull,
        by,
        mark,
        drive.pulls.find((next) => next.startS > pull.endS)?.startS ?? Number.POSITIVE_INFINITY,
      ),
    )
    .filter((drop) => drop !== undefined)
    .map(withinAll);
  const known = { drive, rail, regulator, reference, by, dropouts, frozen: live.said };
  const deciding =
    drops.length > 0
      ? dropFinding(known, drops, limit)
      : notAssessedFinding(DROP, title, 'No pull holds three readings of fuel pressure that can be judged.', [
          'Log fuel_rail_pressure at 10 Hz or more.',
        ]);
  const findings = [
    deciding,
    rail.isDirect ? undefined : regulatorFinding(drive, regulator, build),
    reference && baseFinding(drive, build, rail, regulator, reference, limitOf(limits, BASE)),
  ].filter((finding) => finding !== undefined);
  return {
    summary: `${deciding.title}, over ${drops.length} pull${drops.length === 1 ? '' : 's'}.`,
    findings: keptOpen(deciding, findings),
    needs: rail.hasManifold ? [] : ['manifold_pressure'],
    tables: [dropTable(drive, drops, reference)],
  };
}

export const fuelPressure: Analyser = { meta, assess };
