import { describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { BuildSheetSchema } from '../../src/build-sheet/build-sheet-schema.ts';
import { checkBuildIds } from '../../src/build-sheet/check-build-ids.ts';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';
import { UserError } from '../../src/kernel/user-error.ts';

const ENGINE = { displacement: '2.0 L', cylinders: 4, redline: '6900 rpm' };

const parse = (more: object = {}) =>
  parseBuildSheet(JSON.stringify({ pullgate: 'build/1', engine: ENGINE, ...more }), 'car.build.json');

function messageOf(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    if (error instanceof UserError) return error.message;
    throw error;
  }
  throw new Error('nothing was thrown');
}

describe('parseBuildSheet', () => {
  it('reads every key into canonical units', () => {
    const build = parse({
      $schema: 'https://example.invalid/build.schema.json',
      title: 'Demo car',
      engine: { ...ENGINE, strokes: 4, idle: '820 rpm', volumetricEfficiency: 0.9 },
      airflow: 'speed-density',
      fuel: { ethanol: '10 %' },
      injectors: {
        flow: '640 cc/min',
        ratedPressure: '3 bar',
        fuelPressure: '43.5 psi',
        regulator: 'manifold-referenced',
        pulsesPerCycle: 2,
        deadTime: [
          ['14 V', '0.8 ms'],
          ['12 V', '1.1 ms'],
        ],
      },
      boost: { control: 'manual', wastegateCracking: ['0.3 bar', '0.4 bar'], target: '0.8 bar', ceiling: '16 psi' },
      bottomEnd: { torqueLimit: '220 lbf ft', maxEthanol: '20 %' },
      mixture: { fullLoadLambda: 0.82 },
      vehicle: {
        mass: '1350 kg',
        gearRatios: [3.3, 1.94],
        finalDrive: 3.94,
        tyreCircumference: '1.93 m',
        dragArea: '0.66 m2',
      },
      ambient: { barometricPressure: '98 kPa abs' },
      expect: { disconnected: ['mass_air_flow'], ignoreCodes: ['p0102 '] },
      codes: ['P0234'],
      nextStep: { boost: '1.0 bar' },
      required: ['fuel-trim'],
      limits: { 'injector-duty.peak': { warn: '80 %', fail: '90 %' } },
      handback: [{ item: 'Fault memory read', done: true }],
    });
    expect(build.engine).toEqual({
      displacementL: 2,
      cylinders: 4,
      strokes: 4,
      redlineRpm: 6900,
      idleRpm: 820,
      volumetricEfficiency: 0.9,
    });
    expect(build.injectors.deadTime).toEqual([
      [12, 1.1],
      [14, 0.8],
    ]);
    expect(build.injectors.fuelPressureKpa).toBeCloseTo(299.9219422528, 9);
    expect(build.boost.wastegateCrackingKpa).toEqual([30, 40]);
    expect(build.boost.wastegateCrackingAssumed).toBe(false);
    expect(build.boost.targetKpa).toBe(80);
    expect(build.boost.ceilingKpa).toBeCloseTo(110.316116690694, 9);
    expect(build.bottomEnd.torqueLimitNm).toBeCloseTo(298.279948632909, 9);
    expect(build.ambient).toEqual({ barometricKpa: 98, source: 'ambient.barometricPressure 98 kPa abs' });
    expect(build.expect).toEqual({ disconnected: ['mass_air_flow'], ignoreCodes: ['P0102'] });
    expect(build.nextStepBoostKpa).toBe(100);
    expect(build.limits).toEqual({ 'injector-duty.peak': { warn: '80 %', fail: '90 %' } });
  });

  it('needs only displacement, cylinders and redline; the wastegate then cracks at 3 to 6 psi, and it is marked as assumed', () => {
    const build = parse();
    expect(build.engine.strokes).toBe(4);
    expect(build.boost.wastegateCrackingAssumed).toBe(true);
    // Common practice, no source; 1 psi = 6.894757293168361 kPa.
    expect(build.boost.wastegateCrackingKpa[0]).toBeCloseTo(20.684271879505, 9);
    expect(build.boost.wastegateCrackingKpa[1]).toBeCloseTo(41.36854375901, 9);
    expect(build.injectors.pulsesPerCycle).toBe(1);
  });

  it('one wastegate pressure is a band without width', () => {
    expect(parse({ boost: { wastegateCracking: '5 psi' } }).boost.wastegateCrackingKpa).toEqual([
      34.473786465841805, 34.473786465841805,
    ]);
  });

  it('an absolute pressure loses the air pressure of the sheet, else the standard atmosphere', () => {
    expect(parse({ boost: { target: '180 kPa abs' } }).boost.targetKpa).toBeCloseTo(78.675, 9);
    const high = parse({ boost: { target: '180 kPa abs' }, ambient: { barometricPressure: '90 kPa abs' } });
    expect(high.boost.targetKpa).toBeCloseTo(90, 9);
  });

  it('altitude gives the air pressure of the standard atmosphere (US Standard Atmosphere 1976: 84.556 kPa at 1500 m)', () => {
    expect(parse({ ambient: { altitude: '1500 m' } }).ambient.barometricKpa).toBeCloseTo(84.556, 2);
  });

  it('comments and trailing commas are fine', () => {
    const text =
      '// car\n{ "pullgate": "build/1", /* x */ "engine": { "displacement": "2 L", "cylinders": 4, "redline": "7000 rpm", }, }';
    expect(parseBuildSheet(text, 'b').engine.displacementL).toBe(2);
  });

  it.each([
    [
      'a bare number',
      { injectors: { flow: 640 } },
      'injectors.flow: found the number 640. Write it as a text with its unit, for example "640 cc/min".',
    ],
    [
      'a text without unit',
      { boost: { target: '12' } },
      'boost.target: "12" has no unit. Write it as "0.9 bar" or "15 psi abs".',
    ],
    [
      'a unit of something else',
      { bottomEnd: { torqueLimit: '300 bar' } },
      'bottomEnd.torqueLimit: "300 bar" is no torque. Write it as "300 N m".',
    ],
    [
      'an unknown unit',
      { vehicle: { mass: '12 stone' } },
      'vehicle.mass: "stone" is not a unit known here. Write it as "1350 kg".',
    ],
    [
      'an impossible value',
      { fuel: { ethanol: '140 %' } },
      'fuel.ethanol: "140 %" cannot be right here. An example: "10 %".',
    ],
    [
      'a misspelt key',
      { injector: {} },
      'injector: "injector" is not a key that can stand here. Did you mean "injectors"?',
    ],
    [
      'a misspelt inner key',
      { boost: { cieling: '1 bar' } },
      'boost.cieling: "cieling" is not a key that can stand here. Did you mean "ceiling"?',
    ],
    [
      'a wrong word',
      { boost: { control: 'hand' } },
      'boost.control: found "hand". It can be "manual", "electronic", "none".',
    ],
    ['a near word', { airflow: 'speeddensity' }, 'Did you mean "speed-density"?'],
    ['a text for a list', { required: 'fuel-trim' }, 'required: found "fuel-trim". It must be a list in [ ].'],
    ['a number for a text', { title: 3 }, 'title: found the number 3. It must be a text in quotes.'],
    ['half a pair', { injectors: { deadTime: [['12 V']] } }, 'injectors.deadTime[0]'],
    [
      'a bare wastegate pressure',
      { boost: { wastegateCracking: 0.3 } },
      'boost.wastegateCracking: found the number 0.3. Write it as a text with its unit',
    ],
    [
      'a ratio that is none',
      { vehicle: { finalDrive: -1 } },
      'vehicle.finalDrive: found the number -1. It must be above 0.',
    ],
    [
      'too many cylinders',
      { engine: { ...ENGINE, cylinders: 99 } },
      'engine.cylinders: found the number 99. It must be at most 16.',
    ],
    ['three strokes', { engine: { ...ENGINE, strokes: 3 } }, 'engine.strokes: found the number 3.'],
    [
      'an idle above the redline',
      { engine: { ...ENGINE, idle: '8000 rpm' } },
      'engine.idle: the idle speed is not below the redline.',
    ],
    [
      'a pair from high to low',
      { boost: { wastegateCracking: ['0.5 bar', '0.3 bar'] } },
      'boost.wastegateCracking: the pair runs from high to low. Write the lower pressure first.',
    ],
    [
      'a ceiling below the target',
      { boost: { target: '1 bar', ceiling: '0.9 bar' } },
      'boost.ceiling: the ceiling is below the target.',
    ],
    [
      'a target below the air pressure',
      { boost: { target: '0.8 bar abs' } },
      'boost.target: this is not above the air pressure. A pressure is gauge unless written "… abs".',
    ],
    [
      'two dead times at one voltage',
      {
        injectors: {
          deadTime: [
            ['12 V', '1 ms'],
            ['12 V', '2 ms'],
          ],
        },
      },
      'injectors.deadTime: one voltage has two dead times. Keep one pair for each voltage.',
    ],
  ])('%s is refused with its place', (_, more, message) => {
    const text = messageOf(() => parse(more));
    expect(text).toContain(message);
    expect(text).toMatch(/^car\.build\.json:\d+:\d+, /);
  });

  it('what is missing is named', () => {
    const text = messageOf(() => parseBuildSheet('{ "pullgate": "build/1", "engine": { "cylinders": 4 } }', 'b.json'));
    expect(text).toContain('2 problems');
    expect(text).toContain(
      'engine.displacement: "displacement" is missing. Write it as a text with its unit, for example "2.0 L".',
    );
    expect(text).toContain('engine.redline: "redline" is missing.');
  });

  it('all problems come at once, in the order of the file, with line and column', () => {
    const text = `{
  "pullgate": "build/1",
  "engine": { "displacement": 2, "cylinders": 4, "redline": "6900 rpm" },
  "bost": {},
  "fuel": { "ethanol": "ten" }
}`;
    expect(messageOf(() => parseBuildSheet(text, 'b.json')).split('\n')).toEqual([
      'b.json: 3 problems',
      '  b.json:3:15, engine.displacement: found the number 2. Write it as a text with its unit, for example "2.0 L".',
      '  b.json:4:3, bost: "bost" is not a key that can stand here. Did you mean "boost"?',
      '  b.json:5:13, fuel.ethanol: "ten" is not a number with a unit. Write it as "10 %".',
    ]);
  });

  it.each([
    ['', 'b: the file is empty.'],
    ['[]', 'b:1:1: found a list. It must be an object in { }.'],
    ['{ "a" 1 }', 'b:1:7: this is not valid JSON: a missing colon.'],
    ['{ "a": 1', 'this is not valid JSON: a missing }.'],
    ['{ "pullgate": "build/1", "pullgate": "build/1" }', '"pullgate" is written twice. Keep one of the two.'],
    ['{ "pullgate": "map/1" }', 'b: this is a mapping, not a build sheet. Give it with --map.'],
    ['{ "pullgate": "summary/1" }', 'b: this is a summary of pullgate, not a build sheet.'],
    ['Time (s),RPM\n0,800\n', 'b: this looks like a log, not a mapping or build sheet.'],
    [
      '{ "title": 1 "b": 2 }',
      'b:1:14: this is not valid JSON: a missing comma before this. Write a comma after each entry.',
    ],
    ['{ "pullgate": "build/9", "engine": {} }', 'pullgate: found "build/9".'],
    ['{ "__proto__": { "engine": 1 } }', '"__proto__" is not a key that can stand here.'],
    ['{ "pullgate": "build/1", "constructor": {} }', '"constructor" is not a key that can stand here.'],
  ])('%s is refused', (text, message) => {
    expect(messageOf(() => parseBuildSheet(text, 'b'))).toContain(message);
  });

  it('has a JSON Schema with descriptions', () => {
    const schema = z.toJSONSchema(BuildSheetSchema, { io: 'input' }) as {
      properties: Record<string, { description?: string; properties?: Record<string, { description?: string }> }>;
    };
    expect(schema.properties.injectors.properties?.flow.description).toContain('Example: "640 cc/min"');
    expect(schema.properties.boost.description).toBe('Boost and its control.');
  });
});

describe('quantities that cannot be meant', () => {
  const engine = { displacement: '2.0 L', cylinders: 4, redline: '6900 rpm' };
  const told = (part: object) => () =>
    parseBuildSheet(JSON.stringify({ pullgate: 'build/1', engine, ...part }), 'b.json');

  it.each([
    [{ fuel: { ethanol: '0.85 %' } }, '"0.85 %" is less than one per cent. If it is a share of one, write "85 %"'],
    [{ engine: { ...engine, redline: '999 rpm' } }, '"999 rpm" cannot be right here. An example: "6900 rpm".'],
    [{ engine: { ...engine, redline: '20001 rpm' } }, 'cannot be right here'],
    [{ engine: { ...engine, displacement: '39 cc' } }, 'cannot be right here'],
  ])('%j', (part, message) => {
    expect(told(part)).toThrow(message);
  });

  it.each([
    { fuel: { ethanol: '0 %' } },
    { fuel: { ethanol: '1 %' } },
    { engine: { ...engine, redline: '1000 rpm' } },
    { engine: { ...engine, redline: '20000 rpm' } },
    { engine: { ...engine, displacement: '50 cc' } },
  ])('but %j may', (part) => {
    expect(told(part)).not.toThrow();
  });
});

describe('checkBuildIds', () => {
  const known = { analysers: ['fuel-trim', 'injector-duty'], channels: ['mass_air_flow', 'engine_speed'] };

  it('accepts what exists', () => {
    expect(() =>
      checkBuildIds(parse({ required: ['fuel-trim'], expect: { disconnected: ['mass_air_flow'] } }), known, 'b'),
    ).not.toThrow();
  });

  it('names the near analyser and channel', () => {
    expect(messageOf(() => checkBuildIds(parse({ required: ['fuel-trims'] }), known, 'b'))).toBe(
      'b, required[0]: "fuel-trims" is not an analyser. Did you mean "fuel-trim"?',
    );
    expect(messageOf(() => checkBuildIds(parse({ expect: { disconnected: ['mass_airflow'] } }), known, 'b'))).toBe(
      'b, expect.disconnected[0]: "mass_airflow" is not a channel. Did you mean "mass_air_flow"?',
    );
  });
});
