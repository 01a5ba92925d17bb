import { type CauseRule, check, when } from './cause-rule.ts';

const KNOCK = ['timing-pull.peak', 'timing-pull.repeat'];

/** Causes of retard and heat, the graver for the engine first. */
export const KNOCK_RULES: readonly CauseRule[] = [
  {
    id: 'one-cylinder',
    cause: 'That cylinder: its plug, injector, cooling, compression or oil',
    physics:
      'Boost, timing and fuel are common to all cylinders. Retard on one alone, again and again, comes from what that cylinder has for itself.',
    explains: KNOCK,
    only: [],
    evidence: [
      when('one cylinder alone is hit', 3, -3),
      when('retard returns at the same engine speed', 1),
      when('retard comes fast and goes slowly', 1),
    ],
    next: [
      check('look', 'Read the plug of that cylinder: gap, heat range, signs of detonation.'),
      check('measure', 'Compression and leak-down test, and a borescope through the plug hole.'),
      check('swap', 'Swap its injector with another and see whether the retard moves along.'),
      check('take apart', 'Have the injectors flow tested.'),
    ],
  },
  {
    id: 'lean-knock',
    cause: 'The lean mixture at that moment makes it knock',
    physics: 'A leaner charge burns hotter and cools less by evaporation, so the end gas ignites by itself sooner.',
    explains: KNOCK,
    only: [],
    evidence: [
      when('the mixture is lean when it knocks', 2, -2),
      when('full load is lean', 1),
      when('one cylinder alone is hit', -1),
    ],
    next: [
      check('measure', 'Put the mixture right first, then log again at lower boost.'),
      check('swap', 'Follow the causes of the lean mixture.'),
    ],
  },
  {
    id: 'hot-charge',
    cause: 'The charge is too hot for this boost and timing',
    physics:
      'The temperature of the end gas follows that of the charge. Heat reaches every cylinder, so all of them are near to knock together.',
    explains: KNOCK,
    only: [],
    evidence: [
      when('the charge is hot when it knocks', 2, -2),
      when('several cylinders are hit', 2, -1),
      when('one cylinder alone is hit', -3),
    ],
    next: [
      check('look', 'Let the car cool at road speed and repeat one pull; check the ducts to the charge cooler.'),
      check('measure', 'Log temperature and pressure before and behind the cooler.'),
      check('swap', 'A better cooler, less boost, or less timing when hot.'),
    ],
  },
  {
    id: 'timing-beyond-fuel',
    cause: 'Boost and timing are beyond what the fuel carries in that engine speed band',
    physics:
      'Knock comes where pressure and time in the end gas outrun the resistance of the fuel; that depends on engine speed and load, and so comes back in the same place.',
    explains: KNOCK,
    only: ['knock retard in the pulls'],
    evidence: [
      when('knock retard in the pulls', 1),
      when('several cylinders are hit', 1),
      when('one cylinder alone is hit', -2),
      when('retard returns at the same engine speed', 1),
      when('the charge is hot when it knocks', 0, 1),
      when('retard comes fast and goes slowly', 1),
    ],
    next: [
      check('look', 'Find out which fuel is in the tank; repeat on fresh fuel of known octane.'),
      check('measure', 'Log retard by cylinder, so that one bad cylinder can be told from all.'),
      check('swap', 'Take 2° out of that band at that load, and log again.'),
    ],
  },
  {
    id: 'knock-noise',
    cause: 'Noise that the knock sensor takes for knock',
    physics:
      'A knock controller takes timing at once and gives it back over seconds; a lone value there and back is no such answer.',
    explains: KNOCK,
    only: [],
    evidence: [when('retard comes fast and goes slowly', -2, 2), when('retard returns at the same engine speed', -1)],
    next: [
      check('look', 'Check brackets, heat shields and exhaust for parts that rattle near the sensor.'),
      check('measure', 'Check tightening torque and wiring of the knock sensor.'),
    ],
  },
  {
    id: 'cooler-short',
    cause: 'The charge cooler does not carry the heat: airflow through it, its size, or pulls too close together',
    physics:
      'Compression heats the charge and the cooler stores and gives off that heat. Where more comes in than goes out, each pull starts and ends hotter.',
    explains: ['charge-temperature.peak'],
    only: ['the charge is hot'],
    evidence: [when('the charge is hot', 2), when('heat builds up from pull to pull', 1)],
    next: [
      check('look', 'Check ducts, fins, fan, and the coolant of a water-cooled one.'),
      check('measure', 'Log temperature and pressure on both sides of the cooler; leave more time between pulls.'),
      check('swap', 'A better cooler, or less boost.'),
    ],
  },
];
