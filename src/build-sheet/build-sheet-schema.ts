import * as z from 'zod/mini';
import { described } from '../kernel/described.ts';
import { quantity } from './quantity-schema.ts';

const POSITIVE = { above: 0 };
const BLEND = { least: 0, most: 100, noShare: true };
/** Engine speeds of anything that is driven on wheels. */
const REDLINE = { least: 1000, most: 20_000 };
const IDLE = { least: 200, most: 20_000 };

const number = (description: string, ...checks: Parameters<ReturnType<typeof z.number>['check']>) =>
  z.exactOptional(described(z.number().check(...checks), description));

const pressure = (example: string, description: string) =>
  z.exactOptional(quantity('pressure', example, `${description} Gauge unless written "… abs".`));

const limit = (description: string) =>
  z.exactOptional(
    described(
      z.string({ error: 'Write it as a text with its unit, for example "80 %"; a ratio or count as "0.9".' }),
      `${description} Example: "80 %".`,
    ),
  );

const Cracking = z.union([
  quantity('pressure', '0.35 bar', 'One pressure. Gauge unless written "… abs".'),
  z.tuple([
    quantity('pressure', '0.3 bar', 'From. Gauge unless written "… abs".'),
    quantity('pressure', '0.4 bar', 'To. Gauge unless written "… abs".'),
  ]),
]);

export const BuildSheetSchema = z.strictObject({
  $schema: z.exactOptional(described(z.string(), 'Address of the JSON Schema, for editors.')),
  pullgate: described(z.literal('build/1'), 'Kind and version of this file.'),
  title: z.exactOptional(described(z.string(), 'Name of the car or job; shown in reports.')),
  engine: described(
    z.strictObject({
      displacement: quantity('displacement', '2.0 L', 'Swept volume of all cylinders.', { least: 0.04, most: 30 }),
      cylinders: described(z.int().check(z.minimum(1), z.maximum(16)), 'Number of cylinders.'),
      strokes: z.exactOptional(described(z.literal([2, 4]), '4 (the default) or 2.')),
      redline: quantity('engine speed', '6900 rpm', 'Highest engine speed in use.', REDLINE),
      idle: z.exactOptional(quantity('engine speed', '820 rpm', 'Warm idle speed.', IDLE)),
      volumetricEfficiency: number('At full load, as a ratio: 0.9 is 90 %.', z.positive(), z.maximum(2)),
    }),
    'The engine.',
  ),
  airflow: z.exactOptional(
    described(
      z.enum(['speed-density', 'mass-air-flow']),
      'How the calibration finds its air. speed-density: the mass air flow meter may be unplugged.',
    ),
  ),
  fuel: z.exactOptional(
    described(
      z.strictObject({
        ethanol: z.exactOptional(quantity('percent', '10 %', 'Ethanol in the tank, by volume.', BLEND)),
      }),
      'The fuel in the tank.',
    ),
  ),
  injectors: z.exactOptional(
    described(
      z.strictObject({
        flow: z.exactOptional(
          quantity(
            'volume flow',
            '640 cc/min',
            'Rated flow of one injector; lb/h is read as 10.5 cc/min each.',
            POSITIVE,
          ),
        ),
        ratedPressure: pressure('3 bar', 'Pressure at which the flow is rated.'),
        fuelPressure: pressure('3 bar', 'Base fuel pressure: with a manifold reference, the differential it holds.'),
        regulator: z.exactOptional(
          described(z.enum(['manifold-referenced', 'fixed']), 'Whether rail pressure follows the manifold.'),
        ),
        pulsesPerCycle: number('Pulses of one injector in one engine cycle. Default 1.', z.positive(), z.maximum(10)),
        deadTime: z.exactOptional(
          described(
            z.array(
              z.tuple([
                quantity('voltage', '12 V', 'Battery voltage.', POSITIVE),
                quantity('time', '1.1 ms', 'Dead time at that voltage.', { least: 0 }),
              ]),
            ),
            'Dead time by battery voltage, for example [["12 V", "1.1 ms"], ["14 V", "0.8 ms"]].',
          ),
        ),
      }),
      'The injectors.',
    ),
  ),
  boost: z.exactOptional(
    described(
      z.strictObject({
        control: z.exactOptional(
          described(
            z.enum(['manual', 'electronic', 'none']),
            'How boost is set: a hand-set valve, a solenoid, the spring alone.',
          ),
        ),
        wastegateCracking: z.exactOptional(
          described(
            Cracking,
            'Where the wastegate actuator starts to open: one pressure or a pair. Default 3 to 6 psi (common practice, no source).',
          ),
        ),
        target: pressure('0.8 bar', 'Boost this step should give.'),
        ceiling: pressure('1.1 bar', 'Boost that must never be passed.'),
      }),
      'Boost and its control.',
    ),
  ),
  bottomEnd: z.exactOptional(
    described(
      z.strictObject({
        torqueLimit: z.exactOptional(quantity('torque', '300 N m', 'What rods, pistons and gearbox take.', POSITIVE)),
        maxEthanol: z.exactOptional(quantity('percent', '20 %', 'Most ethanol the build may run on.', BLEND)),
      }),
      'What the bottom end takes.',
    ),
  ),
  mixture: z.exactOptional(
    described(
      z.strictObject({ fullLoadLambda: number('Lambda asked for at full load.', z.minimum(0.5), z.maximum(1.3)) }),
      'The mixture asked for.',
    ),
  ),
  vehicle: z.exactOptional(
    described(
      z.strictObject({
        mass: z.exactOptional(quantity('mass', '1350 kg', 'Mass as driven.', POSITIVE)),
        gearRatios: z.exactOptional(
          described(z.array(z.number().check(z.positive())), 'From first gear up, for example [3.3, 1.94, 1.31].'),
        ),
        finalDrive: number('Final drive ratio.', z.positive()),
        tyreCircumference: z.exactOptional(quantity('length', '1.93 m', 'Rolling circumference.', POSITIVE)),
        dragArea: z.exactOptional(quantity('area', '0.66 m2', 'Drag coefficient times frontal area.', POSITIVE)),
      }),
      'The car.',
    ),
  ),
  ambient: z.exactOptional(
    described(
      z.strictObject({
        barometricPressure: z.exactOptional(
          quantity('pressure', '98 kPa abs', 'Air pressure at the time, absolute.', { least: 50, most: 110 }),
        ),
        altitude: z.exactOptional(
          quantity('length', '600 m', 'Height above sea level, where the air pressure is not known.', {
            least: -430,
            most: 5500,
          }),
        ),
      }),
      'The air on the day. Used only where the log does not tell.',
    ),
  ),
  expect: z.exactOptional(
    described(
      z.strictObject({
        disconnected: z.exactOptional(described(z.array(z.string()), 'Channels that are unplugged on purpose.')),
        ignoreCodes: z.exactOptional(described(z.array(z.string()), 'Trouble codes that this build explains.')),
      }),
      'What is as it is on purpose.',
    ),
  ),
  codes: z.exactOptional(described(z.array(z.string()), 'Trouble codes read by hand, for example ["P0102"].')),
  nextStep: z.exactOptional(
    described(z.strictObject({ boost: pressure('1.0 bar', 'Boost of the next step.') }), 'The next step of boost.'),
  ),
  required: z.exactOptional(
    described(z.array(z.string()), 'Analysers that must give a verdict before the gate opens.'),
  ),
  limits: z.exactOptional(
    described(
      z.record(
        z.string(),
        z.strictObject({ warn: limit('From here on it warns.'), fail: limit('From here on it fails.') }),
      ),
      'Limits in place of the defaults: measure → { "warn": "80 %", "fail": "90 %" }.',
    ),
  ),
  handback: z.exactOptional(
    described(
      z.array(
        z.strictObject({
          item: described(z.string().check(z.minLength(1)), 'What must be done.'),
          done: described(z.boolean(), 'Whether it is done.'),
        }),
      ),
      'What must be done before the car goes back.',
    ),
  ),
});

export type BuildSheet = z.infer<typeof BuildSheetSchema>;
