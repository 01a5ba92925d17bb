import { type CauseRule, check, when } from './cause-rule.ts';
import { FLOW_TEST, GAUGE, LOOK, SCALING, SMOKE } from './fuel-checks.ts';

const TRIM = 'fuel-trim.level';
const LEAN = ['mixture.lean-error', 'mixture.lean-limit'];
const CONSTANT = when('the correction is alike everywhere', 3, -1);
const COMMON = [when('the banks differ', -2), when('the trims move in one direction', -1)];

/** Causes that closed loop shows, by how the correction runs over load and time. */
export const TRIM_RULES: readonly CauseRule[] = [
  {
    id: 'fuel-constant-short',
    cause: 'One constant of the fuel calibration gives too little fuel: injector flow, rated pressure or fuel density',
    physics:
      'Fuel mass is pulse times a constant. A wrong constant is wrong by the same share at every speed and load, so closed loop adds the same percentage everywhere.',
    explains: [TRIM, ...LEAN],
    only: ['fuel is added'],
    evidence: [when('fuel is added', 1), CONSTANT, when('fuel pressure at rest is off', -1), ...COMMON],
    next: [SCALING, check('measure', 'Measure the ethanol content of the fuel in the tank.'), GAUGE, FLOW_TEST],
  },
  {
    id: 'fuel-constant-over',
    cause: 'One constant of the fuel calibration gives too much fuel: injector flow, rated pressure or fuel density',
    physics:
      'Fuel mass is pulse times a constant. A wrong constant is wrong by the same share at every speed and load, so closed loop takes away the same percentage everywhere.',
    explains: [TRIM],
    only: ['fuel is taken away'],
    evidence: [when('fuel is taken away', 1), CONSTANT, when('fuel pressure at rest is off', -1), ...COMMON],
    next: [SCALING, check('measure', 'Measure the ethanol content of the fuel in the tank.'), GAUGE],
  },
  {
    id: 'fuel-blend',
    cause: 'The fuel in the tank holds another share of ethanol than the calibration assumes',
    physics:
      'Ethanol needs more fuel mass for the same air, so a change of blend scales the need for fuel by the same share everywhere.',
    explains: [TRIM],
    only: ['another blend would explain the correction'],
    evidence: [
      when('another blend would explain the correction', 1, -2),
      when('the correction is alike everywhere', 1, -1),
      when('the ethanol sensor differs from the build sheet', 3, -2),
      ...COMMON,
    ],
    next: [
      check('look', 'Ask what was filled in last, and where.'),
      check('measure', 'Measure the ethanol content of the fuel in the tank.'),
    ],
  },
  {
    id: 'unmetered-air',
    cause: 'Unmetered air: a vacuum leak, or a crankcase or brake booster line that leaks',
    physics:
      'A leak lets in an amount of air that manifold vacuum sets. Against the small airflow of idle it weighs much, against the large one of load hardly at all.',
    explains: [TRIM],
    only: ['fuel is added', 'the correction fades with load'],
    evidence: [
      when('fuel is added', 1),
      when('the correction fades with load', 3, -3),
      when('the calibration works by speed and density', -1),
      ...COMMON,
    ],
    next: [LOOK, SMOKE, check('swap', 'Clamp the side lines one by one at idle and watch the trims.')],
  },
  {
    id: 'idle-calibration',
    cause: 'Injector dead time or the idle cells of the airflow model are set too low',
    physics:
      'Dead time is a fixed part of every pulse, so an error in it weighs most where pulses are short; so does an error in cells that only idle uses.',
    explains: [TRIM],
    only: ['fuel is added', 'the correction fades with load'],
    evidence: [
      when('the correction fades with load', 1, -2),
      when('the calibration works by speed and density', 1),
      ...COMMON,
    ],
    next: [check('look', 'Compare dead time over battery voltage with the data of the injectors.'), SMOKE],
  },
  {
    id: 'extra-fuel-at-idle',
    cause: 'Extra fuel that is not commanded: purge, a dripping injector or fuel in the oil; or dead time set too high',
    physics:
      'A fixed inflow of fuel weighs most where little is injected, so closed loop takes fuel away at idle and hardly any with load.',
    explains: [TRIM],
    only: ['fuel is taken away', 'the correction fades with load'],
    evidence: [when('fuel is taken away', 1), when('the correction fades with load', 3, -3), ...COMMON],
    next: [
      check('look', 'Smell the oil for fuel, and look at its level.'),
      check('measure', 'Clamp the purge line at warm idle and watch the trims.'),
      check('measure', 'Switch off warm and watch rail pressure for a fall.'),
      FLOW_TEST,
    ],
  },
  {
    id: 'airflow-high',
    cause: 'Airflow is over-read, or fuel pressure rises with load',
    physics:
      'Fuel is metered to the air that is reckoned; what is reckoned too much grows with flow and comes out rich.',
    explains: [TRIM],
    only: ['fuel is taken away'],
    evidence: [when('fuel is taken away', 1), when('the correction grows with load', 2, -2), ...COMMON],
    next: [
      check('look', 'Compare manifold pressure with the barometer with the engine off.'),
      check('measure', 'Hold measured airflow against speed density at idle, cruise and full load.'),
      GAUGE,
    ],
  },
  {
    id: 'moving-with-heat',
    cause:
      'Something moves while the car is driven: hot fuel, a leak that opens with heat, purge, or a trim still learning',
    physics:
      'A fixed fault corrects the same way from start to end. A correction that walks in the same operating regions follows something that warms, fills or empties.',
    explains: ['fuel-trim.drift', TRIM],
    only: ['the trims move in one direction'],
    evidence: [when('the trims move in one direction', 4, -4)],
    next: [
      check('look', 'Note fuel level and temperatures, and drive the same route again.'),
      check('measure', 'Log rail pressure, intake air and fuel temperature beside the trims; clamp the purge line.'),
      GAUGE,
    ],
  },
  {
    id: 'one-bank',
    cause:
      'One bank differs: exhaust leak ahead of its sensor, the sensor itself, a leak at its runners or its injectors',
    physics: 'Air, pressure and fuel are common to both banks, so what one bank alone needs comes from that bank.',
    explains: ['fuel-trim.bank-split', TRIM],
    only: ['the banks differ'],
    evidence: [when('the banks differ', 4, -4)],
    next: [
      check('look', 'Check exhaust joints ahead of both sensors, and sensor plugs for being swapped.'),
      SMOKE,
      check('swap', 'Swap the two sensors and see whether the difference moves along.'),
      FLOW_TEST,
    ],
  },
];
