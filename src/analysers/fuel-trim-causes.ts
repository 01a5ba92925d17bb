import type { Build } from '../build-sheet/build.ts';
import type { Drive } from '../drive/drive.ts';
import type { TrimPattern } from '../drive/trim/pattern.ts';
import type { Cause } from './finding.ts';
import { blendWords } from './fuel-trim-blend.ts';

export interface TrimReading {
  readonly reading: string;
  readonly causes: Cause[];
  readonly next: string[];
}

export type AirflowKind = 'speed-density' | 'mass-air-flow' | 'unknown';

/** How the calibration measures air. A meter that is unplugged by design is never blamed. */
export function airflowKind(drive: Drive, build: Build): AirflowKind {
  if (build.airflow === 'speed-density' || build.expect.disconnected.includes('mass_air_flow')) return 'speed-density';
  if (build.airflow === 'mass-air-flow') return 'mass-air-flow';
  const meter = drive.recording.channels.get('mass_air_flow');
  return meter && meter.max - meter.min > 1 ? 'mass-air-flow' : 'unknown';
}

const cause = (text: string, because: string[], against: string[] = []): Cause => ({
  cause: text,
  for: because,
  against,
});

function misread(kind: AirflowKind, way: 'little' | 'much'): string {
  if (kind === 'speed-density') {
    return `Airflow model gives too ${way} air: volumetric efficiency table, manifold pressure or intake air temperature reading`;
  }
  if (kind === 'mass-air-flow') return `Mass air flow meter reads too ${way}: dirty element or wrong scaling`;
  return `Airflow reads too ${way}: meter scaling, or volumetric efficiency table and its sensors`;
}

const checkAirflow: Readonly<Record<AirflowKind, string>> = {
  'speed-density':
    'Compare manifold pressure with key on, engine off to the barometer, intake air temperature with ambient on a cold car, then correct the volumetric efficiency table cell by cell.',
  'mass-air-flow':
    'Compare mass air flow at idle and in cruise with speed density; clean or swap the meter; check its scaling.',
  unknown: 'Compare the airflow reading at idle and in cruise with speed density; check sensors and scaling.',
};

const LOOK = 'Read stored codes, and check air filter, hoses and clamps by eye.';
const SMOKE = 'Smoke test the intake from the filter to the valves, and the crankcase and brake booster lines.';
const EXHAUST = 'Check the exhaust for leaks ahead of the lambda sensor, cold start, by ear and hand.';
const PRESSURE = 'Measure fuel pressure at idle and under load, with the regulator hose on and off.';
const SCALING = 'Check injector part number, flow and reference pressure in the calibration against the parts fitted.';
const DEAD_TIME = 'Check injector dead time over battery voltage in the calibration.';
const PURGE = 'Clamp the purge line and see whether trim at warm idle moves.';
const LEAK_DOWN = 'Switch off warm and watch rail pressure for a fall; inspect injectors for dripping.';
const FUEL = 'Measure the ethanol content of the fuel in the tank.';

function leanAtIdle(kind: AirflowKind, seen: string): TrimReading {
  const metered =
    kind === 'speed-density'
      ? [
          'Manifold pressure counts part of the leaked air in a speed-density calibration, so a leak alone shows less here.',
        ]
      : [];
  return {
    reading: 'Positive at idle and fading with load: the usual trace of unmetered air.',
    causes: [
      cause(
        'Unmetered air: vacuum leak, crankcase or brake booster line, dipstick or oil filler seal',
        [seen],
        metered,
      ),
      cause('Exhaust leak ahead of the lambda sensor draws in air at idle', [seen]),
      cause('Injector dead time set too low: weighs most at short pulses', [seen]),
      ...(kind === 'speed-density' ? [cause('Volumetric efficiency too low in the idle cells', [seen])] : []),
    ],
    next: [LOOK, SMOKE, EXHAUST, DEAD_TIME, ...(kind === 'speed-density' ? [checkAirflow[kind]] : [])],
  };
}

function leanWithLoad(kind: AirflowKind, seen: string): TrimReading {
  return {
    reading:
      'Positive and growing with load: fuel delivery falls short, or airflow is under-read. At full load, in open loop, nothing corrects it.',
    causes: [
      cause('Fuel delivery: pump, filter, regulator or supply voltage', [seen]),
      cause(misread(kind, 'little'), [seen]),
      cause('Injectors smaller or dirtier than the calibration assumes', [seen]),
    ],
    next: [
      'No further full-load pull until the cause of the fuel trim is known.',
      LOOK,
      PRESSURE,
      checkAirflow[kind],
      SCALING,
    ],
  };
}

function leanAlike(drive: Drive, build: Build, level: number, seen: string): TrimReading {
  const blend = blendWords(drive, build, level);
  return {
    reading: `Positive and alike everywhere: one constant is off. ${blend.words}`,
    causes: [
      cause('Injector flow scaled too high in the calibration', [seen]),
      cause('Fuel pressure lower than the calibration assumes', [seen]),
      cause(
        'Fuel with more ethanol than the calibration assumes',
        blend.explains ? [seen, blend.words] : [seen],
        blend.explains ? [] : [blend.words],
      ),
    ],
    next: [LOOK, FUEL, SCALING, PRESSURE],
  };
}

function richAlike(drive: Drive, build: Build, level: number, seen: string): TrimReading {
  const blend = blendWords(drive, build, level);
  return {
    reading: `Negative and alike everywhere: one constant is off. ${blend.words}`,
    causes: [
      cause('Injector flow scaled too low in the calibration', [seen]),
      cause('Fuel pressure higher than the calibration assumes', [seen]),
      cause(
        'Fuel with less ethanol than the calibration assumes',
        blend.explains ? [seen, blend.words] : [seen],
        blend.explains ? [] : [blend.words],
      ),
    ],
    next: [LOOK, FUEL, SCALING, PRESSURE],
  };
}

function richAtIdle(seen: string): TrimReading {
  return {
    reading: 'Negative at idle and fading with load: extra fuel that weighs most where little is injected.',
    causes: [
      cause('Leaking injector, or fuel in the crankcase', [seen]),
      cause('Canister purge open or stuck open', [seen]),
      cause('Injector dead time set too high', [seen]),
    ],
    next: [LOOK, PURGE, DEAD_TIME, LEAK_DOWN],
  };
}

function richWithLoad(kind: AirflowKind, seen: string): TrimReading {
  return {
    reading: 'Negative and growing with load: fuel delivery exceeds what was asked, or airflow is over-read.',
    causes: [
      cause(misread(kind, 'much'), [seen]),
      cause('Fuel pressure rises too much with load: regulator or its reference hose', [seen]),
      cause('Injectors larger than the calibration assumes', [seen]),
    ],
    next: [LOOK, checkAirflow[kind], PRESSURE, SCALING],
  };
}

/** What the pattern points to, with what speaks for and against, and what to check in order of cost. */
export function readPattern(drive: Drive, build: Build, pattern: TrimPattern): TrimReading {
  const kind = airflowKind(drive, build);
  const seen = pattern.evidence;
  switch (pattern.kind) {
    case 'lean at idle, fading with load':
      return leanAtIdle(kind, seen);
    case 'lean, growing with load':
      return leanWithLoad(kind, seen);
    case 'lean everywhere alike':
      return leanAlike(drive, build, pattern.levelPercent, seen);
    case 'rich at idle, fading with load':
      return richAtIdle(seen);
    case 'rich, growing with load':
      return richWithLoad(kind, seen);
    case 'rich everywhere alike':
      return richAlike(drive, build, pattern.levelPercent, seen);
    case 'none':
      return {
        reading: 'No pattern over load can be read, so no cause is preferred.',
        causes: [],
        next: [LOOK, 'Log warm idle, light cruise and brisk cruise for a minute each, to show the pattern.', PRESSURE],
      };
  }
}
