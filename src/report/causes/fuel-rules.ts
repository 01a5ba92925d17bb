import { type CauseRule, check, when } from './cause-rule.ts';
import { GAUGE, LOG_RAIL, LOOK } from './fuel-checks.ts';

const TRIM = 'fuel-trim.level';
const LEAN = ['mixture.lean-error', 'mixture.lean-limit'];
const COMMON = [when('the banks differ', -2), when('the trims move in one direction', -1)];

/** A lean reading that no engine pulls on, and one that fuel and air as delivered do not give, speak of the sensor. */
const UNBELIEVED = when('lambda lies at its lean end', -4);
const UNFITTING = when('the mixture read does not fit the fuel delivered', -1);

/** Causes that full load shows, the graver for the engine first. */
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
      when('the fall grows with engine speed', 1, -1),
      when('the regulator lost its reference', -1),
      when('the correction grows with load', 2, -1),
      when('fuel is taken away', -3),
      when('full load is lean', 1),
      when('injector duty is at its end', 1),
      when('battery voltage is low in the pull', 1),
      UNBELIEVED,
      UNFITTING,
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
      when('boost never comes to a level', -2),
      when('boost goes over its ceiling', -1),
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
      UNBELIEVED,
      UNFITTING,
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
      when('the trims move in one direction', -2),
      when('fuel pressure falls at full load', -3, 1),
      when('injector duty is at its end', -2, 1),
      UNBELIEVED,
      when('the mixture read does not fit the fuel delivered', -2),
    ],
    next: [
      check('look', 'Check the exhaust ahead of the sensor for leaks, and the stoichiometric ratio in the mapping.'),
      LOG_RAIL,
      check('swap', 'Add fuel in the full-load cells in small steps, and log again.'),
    ],
  },
  {
    id: 'sensor-in-air',
    cause:
      'The lambda sensor sees air or is dead: exhaust leak ahead of it, misfire, heater, plug, wiring, or a wrong scaling',
    physics:
      'On a mixture that lean a petrol engine misfires and does not pull. A reading at the lean end while the car does pull comes from air at the sensor, or from a sensor that does not measure.',
    explains: [...LEAN, 'sensor-health.saturated', 'mixture.agreement'],
    only: ['lambda lies at its lean end'],
    evidence: [
      when('lambda lies at its lean end', 4),
      when('the mixture read does not fit the fuel delivered', 2, -2),
      when('cylinders misfire', 1),
      when('fuel pressure falls at full load', -4, 1),
      when('injector duty is at its end', -2),
    ],
    next: [
      check(
        'look',
        'Check the exhaust ahead of the sensor for leaks, the plug and wiring of the sensor and its heater.',
      ),
      check('look', 'Check unit and stoichiometric ratio of lambda in the mapping.'),
      check(
        'measure',
        'Watch lambda at warm idle in closed loop, where it must swing about 1, and in fuel cut, where it must go to its lean end and come back.',
      ),
      check('swap', 'Change the sensor. Touch no fuel table, and pull no full load, on readings like these.'),
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
