// Question: does estimated torque stay inside what the bottom end takes?
// Route 1: torque = burnt fuel × its heat × brake efficiency / angular speed, fuel from airflow and mixture.
// Route 2: torque = (mass × acceleration + rolling + drag) × way per radian / driveline efficiency.
// Both where possible, each with its uncertainty; together where they agree, else the higher is judged. Never corrected to standard air.
import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit, limitOf } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { highestTorque, type PullTorque, type TorqueEstimate, torqueEstimate } from '../drive/torque/estimate.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { ethanolFinding } from './torque-ethanol.ts';
import { lowSpeedFinding } from './torque-low-speed.ts';
import {
  disagreementCauses,
  nm,
  peakAsides,
  routeNeeds,
  routeReasons,
  torqueTable,
  torqueWords,
} from './torque-words.ts';
import { limitShown, limitWords, notAssessedFinding, pullPlace, rpmWords, withInterval } from './wording.ts';

const ID = 'torque.peak';

const meta: AnalyserMeta = {
  id: 'torque',
  title: 'Torque',
  question: 'Does estimated torque stay inside what the bottom end takes?',
  needs: [
    ['engine_speed'],
    ['manifold_pressure', 'mass_air_flow', 'injector_pulse_width', 'injector_duty', 'vehicle_speed', 'gear'],
  ],
  helps: [
    'vehicle_speed',
    'gear',
    'manifold_pressure',
    'charge_air_temperature',
    'intake_air_temperature',
    'mass_air_flow',
    'lambda',
    'ethanol_content',
  ],
  formula:
    'torque (N m) by airflow: 1000 × air (g/s) / (λ × stoich) × heating value (kJ/g) × efficiency / ω (rad/s); by acceleration: (m (kg) × a (m/s²) + rolling (N) + drag (N)) × (tyre circumference (m) / 2π / overall ratio) / driveline efficiency',
  physics:
    'Torque is gas pressure on the pistons: at low engine speed nothing relieves the rods of it, so the highest torque at low speed is what bends them. ' +
    'The air that an engine burns bounds what it can make, and what it makes moves a known mass up the road: two roads to the same number that share hardly any input. ' +
    'Rods feel the torque of the day, so nothing is corrected to standard air; a boost-controlled engine must not be corrected at all.',
  limits: [
    {
      id: ID,
      title: 'Share of bottomEnd.torqueLimit',
      unit: '%',
      warn: 90,
      fail: 100,
      source: 'common practice, no source',
    },
  ],
  cannotSee: [
    'Cylinder pressure: knock or early timing loads a rod far beyond what mean torque shows.',
    'One cylinder that makes more than the others.',
    'The slope of the road and the wind, beyond an allowance for a road that looks flat.',
    'A slipping clutch or torque converter, except by road speed over engine speed.',
  ],
  cautions: [
    'Estimated torque is no dynamometer reading: leave the bottom end the margin that its interval shows, most of all at low engine speed.',
  ],
};

const share = (torqueNm: number, limitNm: number) => (100 * torqueNm) / limitNm;

function peakFinding(
  drive: Drive,
  build: Build,
  estimate: TorqueEstimate,
  deciding: PullTorque,
  limit: Limit,
): Finding {
  const { torqueLimitNm } = build.bottomEnd;
  const { peak, pull } = deciding;
  const place = pullPlace(pull, peak.atS, peak.atS, [peak.rpm, peak.rpm]);
  const reasoning = [...routeReasons(estimate, deciding), ...peakAsides(drive, build, deciding)];
  const common = { id: ID, where: [place], causes: disagreementCauses(deciding) };
  if (torqueLimitNm === undefined) {
    return {
      ...common,
      verdict: 'not-assessed',
      title: `${nm(peak.nm)} at ${rpmWords(peak.rpm)}, and no limit to hold it against`,
      measured: { value: peak.nm, unit: 'N m', low: peak.low, high: peak.high },
      reasoning: [...reasoning, 'The build sheet names no bottomEnd.torqueLimit, so it is measured and not judged.'],
      next: ['Write what rods, pistons and gearbox take into the build sheet (bottomEnd.torqueLimit).'],
    };
  }
  const value = share(peak.nm, torqueLimitNm);
  const [low, high] = [share(peak.low, torqueLimitNm), share(peak.high, torqueLimitNm)];
  const judged = judge(value, limit);
  const open = judged === 'pass' && limit.fail !== undefined && high >= limit.fail;
  const bad = judged !== 'pass';
  return {
    ...common,
    verdict: open ? 'not-assessed' : judged,
    title: open
      ? 'Torque cannot be told from its limit'
      : `Torque is ${formatQuantity(value, '%')} of what the bottom end takes`,
    measured: { value, unit: '%', low, high },
    limit: limitShown(limit),
    reasoning: [
      ...reasoning,
      `Against the ${nm(torqueLimitNm)} of bottomEnd.torqueLimit: ${withInterval(value, low, high, '%', limit)}, ${limitWords(limit)}.`,
      ...(open ? ['The interval reaches the limit, so this log cannot tell a safe engine from one at its limit.'] : []),
      ...(deciding.agree === false ? ['The routes disagree; until that is settled, take the higher for true.'] : []),
    ],
    ...(judged === 'pass' && !open
      ? {
          detectable: `With an interval of ${formatQuantity((50 * (high - low)) / value, '%')} either side, torque of ${nm((torqueLimitNm * (limit.warn ?? limit.fail ?? 100)) / 100)} or more would have been told.`,
        }
      : {}),
    next: bad
      ? [
          'Do not add boost. Take some out below the engine speed of the torque peak.',
          'Have torque measured on a dynamometer.',
          'Fit a bottom end that takes more before the next step.',
        ]
      : open
        ? [
            'Log vehicle speed at 10 Hz or more on a flat road and write vehicle.mass into the sheet, so that both routes can be used.',
          ]
        : [],
  };
}

function nothing(why: string, needs: readonly string[], others: readonly Finding[]): Assessment {
  const open = notAssessedFinding(ID, 'Torque is not known', why, [
    'Log manifold pressure with charge temperature, and vehicle speed, over a full-load pull; write vehicle.mass into the build sheet.',
  ]);
  return { summary: 'Torque is not known.', findings: keptOpen(open, [open, ...others]), needs, tables: [] };
}

function assess(drive: Drive, { build, limits }: AssessContext): Assessment {
  const limit = limitOf(limits, ID);
  const ethanol = ethanolFinding(drive, build);
  const others = ethanol ? [ethanol] : [];
  if (!drive.recording.channels.has('engine_speed')) {
    return nothing('Engine speed is not logged.', ['engine_speed'], others);
  }
  if (!drive.pulls.some((pull) => pull.usable)) {
    const why = drive.pulls.length === 0 ? 'The log holds no full-load pull.' : 'No pull is long enough to be judged.';
    return nothing(why, ['a full-load pull'], others);
  }
  const estimate = torqueEstimate(drive, build);
  const deciding = highestTorque(estimate.pulls);
  const needs = routeNeeds(estimate);
  if (!deciding) {
    const { airflow, acceleration } = estimate.routes;
    const whys = [airflow, acceleration].flatMap((route) => (route.ok ? [] : [route.why]));
    return nothing(`Neither route is possible: ${needs.join(', ')} missing. ${whys.join(' ')}`, needs, others);
  }
  const { torqueLimitNm } = build.bottomEnd;
  const peak = peakFinding(drive, build, estimate, deciding, limit);
  const findings = [peak, lowSpeedFinding(estimate, torqueLimitNm, limit), ...others].filter(
    (finding) => finding !== undefined,
  );
  return {
    summary: `Highest torque ${torqueWords(deciding.peak)} at ${rpmWords(deciding.peak.rpm)}${torqueLimitNm === undefined ? '; no limit is given' : `, against ${nm(torqueLimitNm)}`}.`,
    findings: keptOpen(peak, findings),
    needs: torqueLimitNm === undefined ? ['bottomEnd.torqueLimit', ...needs] : needs,
    tables: [torqueTable(estimate, torqueLimitNm)],
  };
}

export const torque: Analyser = { meta, assess };
