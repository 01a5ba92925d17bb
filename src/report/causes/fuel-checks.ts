import { check } from './cause-rule.ts';

export const LOOK = check(
  'look',
  'Check air filter, hoses, clamps, vacuum lines and wiring by eye, and read stored codes.',
);
export const GAUGE = check(
  'measure',
  'Measure fuel pressure with a mechanical gauge, at idle and in a short loaded run.',
);
export const LOG_RAIL = check(
  'measure',
  'Log rail pressure, manifold pressure and battery voltage together in a short pull, and lift early.',
);
export const SMOKE = check(
  'measure',
  'Smoke test the intake up to the valves, with crankcase and brake booster lines.',
);
export const SCALING = check('look', 'Compare injector part number, flow and rated pressure with the calibration.');
export const FLOW_TEST = check('take apart', 'Have the injectors flow tested and cleaned.');
