import { type CauseRule, check, when } from './cause-rule.ts';

const CEILING = ['boost-creep.ceiling', 'boost-overshoot.ceiling', 'boost-spike.ceiling'];
const LINE = check(
  'look',
  'Check the control line and its clamps from pressure source to actuator: off, split, kinked, leaking, too long.',
);
const HAND_PUMP = check(
  'measure',
  'Press the actuator with a hand pump: it must hold pressure and move the gate over its whole travel.',
);

/** Causes of wrong boost, the graver for the engine first. */
export const BOOST_RULES: readonly CauseRule[] = [
  {
    id: 'no-control',
    cause: 'No control of the gate: control line off or blocked, or gate or actuator stuck shut',
    physics:
      'Without pressure at the actuator the gate stays shut and all exhaust drives the turbine, so boost climbs with flow and finds no level.',
    explains: [
      'boost-creep.rise',
      'boost-creep.spring',
      'boost-target.error',
      'boost-target.spring',
      'boost-target.tracking',
      ...CEILING,
    ],
    only: [],
    evidence: [
      when('boost never comes to a level', 4, -1),
      when('boost is far above the spring', 3),
      when('boost goes over its ceiling', 1),
      when('boost swings', -3),
      when('boost climbs after it settled', -1),
    ],
    next: [
      LINE,
      HAND_PUMP,
      check(
        'measure',
        'Set the controller to lowest boost and log one short pull, lifting at once above spring pressure.',
      ),
      check('take apart', 'Check gate, arm and shaft for sticking.'),
    ],
  },
  {
    id: 'late-gate',
    cause: 'The gate opens late: long, thin or leaking control line, or a spring and actuator too slow for this turbo',
    physics:
      'The turbine keeps its speed while the gate is still opening, so boost runs past its level. What delays the signal also lets it ring, and settle slowly.',
    explains: ['boost-overshoot.excess', 'boost-overshoot.ceiling'],
    only: ['boost overshoots'],
    evidence: [
      when('boost overshoots', 2, -3),
      when('boost rings after the peak', 1),
      when('boost settles slowly', 1),
      when('it shows in every pull', 1),
      when('boost swings', -1),
    ],
    next: [
      LINE,
      check('measure', 'Turn the controller one step down and log one more pull.'),
      HAND_PUMP,
      check('swap', 'Change spring, actuator or restrictor.'),
    ],
  },
  {
    id: 'control-holds-shut',
    cause: 'The boost control holds the gate shut too long during the rise',
    physics:
      'A control that gives full duty until boost is at its target starts to open the gate when it is already too late.',
    explains: ['boost-overshoot.excess', 'boost-overshoot.ceiling'],
    only: ['boost overshoots'],
    evidence: [
      when('boost overshoots', 1, -3),
      when('the controller is electronic', 1),
      when('it shows in every pull', 1),
      when('boost rings after the peak', -1),
    ],
    next: [
      check('measure', 'Log wastegate duty beside boost and its target.'),
      check('swap', 'Take a few percent off the duty during the rise.'),
    ],
  },
  {
    id: 'gate-flow',
    cause: 'The open gate cannot pass the exhaust flow of high engine speed',
    physics:
      'Exhaust flow grows with engine speed. Once the gate is wide open its surplus goes through the turbine, and boost climbs along a line over engine speed.',
    explains: ['boost-creep.rise', 'boost-creep.ceiling', 'boost-target.error', 'boost-target.tracking'],
    only: ['boost climbs after it settled'],
    evidence: [
      when('boost climbs after it settled', 4, -3),
      when('boost never comes to a level', -3),
      when('it shows in every pull', 1),
      when('boost swings', -1),
    ],
    next: [
      LINE,
      check(
        'measure',
        'Set the controller one step lower and log one more pull: a climb that stays comes from the gate.',
      ),
      check('measure', 'Check actuator travel and preload: the gate has to open fully.'),
      check('take apart', 'Enlarge or reshape the gate port, or fit a larger gate.'),
    ],
  },
  {
    id: 'hunting',
    cause:
      'Gate and control hunt: loose or leaking line, a sticky gate, or too much gain or dead volume in the control',
    physics:
      'A delay or play in the loop lets it answer too late and too much, over and over, so boost swings about its level.',
    explains: [
      'boost-creep.rise',
      'boost-creep.hunting',
      'boost-overshoot.excess',
      'boost-spike.height',
      'boost-spike.surge',
      'boost-target.error',
      'boost-target.tracking',
    ],
    only: ['boost swings'],
    evidence: [
      when('boost swings', 5, -4),
      when('boost never comes to a level', -1),
      when('boost climbs after it settled', -1),
      when('it shows in every pull', 1),
    ],
    next: [LINE, HAND_PUMP, check('swap', 'Lower the gain of the control, or shorten the line.')],
  },
  {
    id: 'sticky-gate',
    cause: 'Gate, controller or line lets go in jerks: a gate that sticks, or a leak that opens under pressure',
    physics:
      'Settled boost is a balance; a part that sticks and slips breaks it for a moment, and the balance comes back by itself.',
    explains: ['boost-spike.height', 'boost-spike.surge', 'boost-spike.ceiling'],
    only: [],
    evidence: [
      when('boost spikes', 1),
      when('spikes last a single sample', -2, 2),
      when('it shows in every pull', 1),
      when('boost swings', -2, 1),
    ],
    next: [LINE, HAND_PUMP, check('take apart', 'Check gate and shaft for sticking and free play.')],
  },
  {
    id: 'electrical-spike',
    cause: 'An electrical pick-up or a loose plug at the pressure sensor',
    physics: 'Pressure in a manifold cannot rise and fall within one sample; a signal can.',
    explains: ['boost-spike.height', 'boost-spike.ceiling'],
    only: [],
    evidence: [when('boost spikes', 1), when('spikes last a single sample', 2, -2)],
    next: [
      check('look', 'Check plug, earth and hose of the manifold pressure sensor.'),
      check('measure', 'Log faster, with the sensor and few other channels.'),
    ],
  },
  {
    id: 'boost-leak',
    cause: 'A leak on the charge side, or a gate that does not close',
    physics:
      'Air that escapes, or exhaust that passes the turbine, leaves less for the manifold than the spring alone should give.',
    explains: ['boost-creep.spring', 'boost-target.error', 'boost-target.spring', 'boost-target.tracking'],
    only: ['boost is low'],
    evidence: [when('boost is low', 3, -3)],
    next: [
      check('look', 'Check hoses, clamps, cooler and recirculation valve.'),
      check('measure', 'Pressure-test the charge side.'),
      HAND_PUMP,
      check('take apart', 'Check that the gate closes in full.'),
    ],
  },
];
