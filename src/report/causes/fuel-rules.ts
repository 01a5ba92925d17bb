import { type CauseRule, check, when } from './cause-rule.ts';

const TRIM = 'fuel-trim.level';
const LEAN = ['mixture.lean-error', 'mixture.lean-limit'];
const CONSTANT = when('the correction is alike everywhere', 3, -1);
const COMMON = [when('the banks differ', -2), when('the trims move in one direction', -1)];

const LOOK = check('look', 'Check air filter, hoses, clamps, vacuum lines and wiring by eye, and read stored codes.');
const GAUGE = check('measure', 'Measure fuel pressure with a mechanical gauge, at idle and in a short loaded run.');
const LOG_RAIL = check(
  'measure',
  'Log rail pressure, manifold pressure and battery voltage together in a short pull, and lift early.',
);
const SMOKE = check('measure', 'Smoke test the intake up to the valves, with crankcase and brake booster lines.');
const SCALING = check('look', 'Compare injector part number, flow and rated pressure with the calibration.');
const FLOW_TEST = check('take apart', 'Have the injectors flow tested and cleaned.');

/** Causes on the fuel side, the graver for the engine first. */
export const FUEL_RULES: readonly CauseRule[] = [
  {
    id: 'fuel-delivery',
    cause: 'Fuel delivery falls short: pump, its supply, filter, line or regulator',
    physics:
      'Injector flow goes with the square root of the pressure across it. A pump or filter at its end loses pressure where flow is highest, so the mixture leans out and pulses grow with load.',
    explains: [TRIM, ...LEAN, 'fuel-pressure.drop', 'injector-duty.peak'],
    only: [],
    evidence: [
      when('fuel pressure falls at full load', 3, -3),
      when('the fall grows with engine speed', 1),
      when('the correction grows with load', 2, -1),
      when('fuel is taken away', -3),
      when('full load is lean', 1),
      when('injector duty is at its end', 1),
      when('battery voltage is low in the pull', 1),
      ...COMMON,
    ],
    next: [
      LOOK,
      LOG_RAIL,
      check('measure', 'Measure voltage at the pump under load, and pump flow into a can at working pressure.'),
      check('swap', 'Change the fuel filter.'),
      check('take apart', 'Test or change pump and regulator.'),
    ],
  },
  {
    id: 'injectors-small',
    cause: 'The injectors are too small for this airflow and fuel',
    physics:
      'Fuel per cycle is flow times open time. Near 100 % duty the injector no longer closes, so more command gives no more fuel and the mixture leans out at the top.',
    explains: [
      'injector-duty.peak',
      'injector-duty.next-step',
      'injector-duty.redline',
      'injector-duty.closed-time',
      ...LEAN,
    ],
    only: ['injector duty is at its end'],
    evidence: [
      when('injector duty is at its end', 3),
      when('full load is lean', 1),
      when('fuel pressure falls at full load', -2, 1),
      when('battery voltage is low in the pull', -1),
      when('the correction is alike everywhere', -1),
    ],
    next: [
      check('look', 'Check pulse width, duty and pulses per cycle in mapping and build sheet.'),
      LOG_RAIL,
      check(
        'swap',
        'Do not raise boost. Fit larger injectors and rescale, or raise fuel pressure within what pump and lines carry.',
      ),
    ],
  },
  {
    id: 'airflow-low',
    cause: 'Airflow is under-read: more air goes in than the calibration reckons',
    physics:
      'Fuel is metered to the air that is reckoned. Air that a meter, a manifold pressure sensor or a volumetric efficiency table leaves out grows with flow, while the pressure across the injectors stays right.',
    explains: [TRIM, ...LEAN],
    only: [],
    evidence: [
      when('the correction grows with load', 2, -1),
      when('fuel is taken away', -3),
      when('fuel pressure falls at full load', -3, 2),
      when('full load is lean', 1),
      ...COMMON,
    ],
    next: [
      check(
        'look',
        'Compare manifold pressure with the barometer with the engine off, and intake air temperature with ambient when cold.',
      ),
      check('measure', 'Hold measured airflow against speed density at idle, cruise and full load.'),
      check('swap', 'Clean or swap the airflow meter, or correct the volumetric efficiency table cell by cell.'),
    ],
  },
  {
    id: 'full-load-table',
    cause: 'The full-load fuel or airflow cells are lean by themselves',
    physics:
      'At full load nothing corrects the table. Where closed loop needs no correction and pressure holds, a lean full load comes from the cells that only full load uses.',
    explains: LEAN,
    only: ['full load is lean'],
    evidence: [
      when('full load is lean', 1),
      when('fuel is added', -1, 1),
      when('fuel pressure falls at full load', -3, 1),
      when('injector duty is at its end', -2, 1),
    ],
    next: [
      check('look', 'Check the exhaust ahead of the sensor for leaks, and the stoichiometric ratio in the mapping.'),
      LOG_RAIL,
      check('swap', 'Add fuel in the full-load cells in small steps, and log again.'),
    ],
  },
  {
    id: 'regulator-reference',
    cause: 'The fuel pressure regulator has lost its manifold reference',
    physics:
      'A manifold-referenced regulator adds boost to the rail. With its hose off, split or blocked, boost takes from the pressure across the injectors, and flow falls with its square root.',
    explains: ['fuel-pressure.reference', 'fuel-pressure.drop', TRIM, ...LEAN],
    only: ['the regulator lost its reference'],
    evidence: [
      when('the regulator lost its reference', 3, -3),
      when('fuel pressure falls at full load', 1),
      when('full load is lean', 1),
      when('the correction grows with load', 1),
    ],
    next: [
      check('look', 'Look at the hose between manifold and regulator: off, split, blocked or kinked.'),
      check('measure', 'Watch rail pressure at idle with the hose on and off: it should step by the manifold vacuum.'),
      check('swap', 'Change hose or regulator, or write the regulator that is fitted into the build sheet.'),
    ],
  },
  {
    id: 'base-pressure',
    cause: 'Base fuel pressure is not what the calibration assumes',
    physics:
      'A wrong pressure at rest scales every pulse by the same factor, the square root of the pressure ratio, so closed loop corrects alike everywhere.',
    explains: ['fuel-pressure.base', TRIM],
    only: ['fuel pressure at rest is off'],
    evidence: [when('fuel pressure at rest is off', 3, -3), when('the correction is alike everywhere', 1), ...COMMON],
    next: [
      GAUGE,
      check('swap', 'Set or change the regulator, or correct the pressure in calibration and build sheet.'),
    ],
  },
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
  {
    id: 'weak-ignition',
    cause: 'Weak ignition: plug, coil or lead that misfires under load',
    physics:
      'A charge that does not burn sends its oxygen past the sensor, so the mixture reads lean although fuel was there. High cylinder pressure asks most of the spark.',
    explains: [...LEAN, 'trouble-codes.unexplained'],
    only: ['cylinders misfire'],
    evidence: [
      when('cylinders misfire', 2, -3),
      when('full load is lean', 1),
      when('fuel pressure falls at full load', -1, 1),
    ],
    next: [
      check('look', 'Read the plugs: gap, colour, cracks.'),
      check('swap', 'Swap plug and coil of the cylinder with another and see whether the misfire moves along.'),
    ],
  },
];
