import { standardPressureKpa } from '../engine/atmosphere.ts';
import { NO_CODES_STORED, parseTroubleCode, parseTroubleCodes } from '../engine/trouble-code.ts';
import { schemaProblems } from '../kernel/schema-problems.ts';
import { type KeyPath, readSettingsFile } from '../kernel/settings-file.ts';
import { type SettingsProblem, settingsError } from '../kernel/settings-problem.ts';
import { UserError } from '../kernel/user-error.ts';
import { convert } from '../units/convert.ts';
import { parseQuantity } from '../units/parse-quantity.ts';
import type { Dimension } from '../units/units.ts';
import type { Build } from './build.ts';
import { type BuildSheet, BuildSheetSchema } from './build-sheet-schema.ts';

/** Where a pneumatic wastegate actuator usually starts to open (common practice, no source). */
const DEFAULT_CRACKING_PSI = [3, 6] as const;

const STANDARD_ATMOSPHERE_KPA = 101.325;

function canonical(dimension: Dimension, text: string): number;
function canonical(dimension: Dimension, text: string | undefined): number | undefined;
function canonical(dimension: Dimension, text: string | undefined): number | undefined {
  return text === undefined ? undefined : parseQuantity(text, dimension).value;
}

function ambientOf(sheet: BuildSheet): Build['ambient'] {
  const pressure = sheet.ambient?.barometricPressure;
  if (pressure !== undefined) {
    return { barometricKpa: canonical('pressure', pressure), source: `ambient.barometricPressure ${pressure}` };
  }
  const altitude = sheet.ambient?.altitude;
  if (altitude !== undefined) {
    const source = `ambient.altitude ${altitude} in the standard atmosphere`;
    return { barometricKpa: standardPressureKpa(canonical('length', altitude)), source };
  }
  return { barometricKpa: undefined, source: undefined };
}

function buildOf(sheet: BuildSheet): Build {
  const { engine, injectors, boost, vehicle } = sheet;
  const ambient = ambientOf(sheet);
  const gauge = (text: string): number => {
    const { value, reference } = parseQuantity(text, 'pressure');
    return reference === 'absolute' ? value - (ambient.barometricKpa ?? STANDARD_ATMOSPHERE_KPA) : value;
  };
  const gaugeOf = (text: string | undefined) => (text === undefined ? undefined : gauge(text));
  const cracking = boost?.wastegateCracking;
  const [from, to] = typeof cracking === 'string' ? [cracking, cracking] : (cracking ?? []);
  return {
    title: sheet.title,
    engine: {
      displacementL: canonical('displacement', engine.displacement),
      cylinders: engine.cylinders,
      strokes: engine.strokes ?? 4,
      redlineRpm: canonical('engine speed', engine.redline),
      idleRpm: canonical('engine speed', engine.idle),
      volumetricEfficiency: engine.volumetricEfficiency,
    },
    airflow: sheet.airflow,
    ethanolPercent: canonical('percent', sheet.fuel?.ethanol),
    ambient,
    injectors: {
      flowCcMin: canonical('volume flow', injectors?.flow),
      ratedPressureKpa: gaugeOf(injectors?.ratedPressure),
      fuelPressureKpa: gaugeOf(injectors?.fuelPressure),
      regulator: injectors?.regulator,
      pulsesPerCycle: injectors?.pulsesPerCycle ?? 1,
      deadTime: (injectors?.deadTime ?? [])
        .map(([volts, time]) => [canonical('voltage', volts), canonical('time', time)] as const)
        .sort((a, b) => a[0] - b[0]),
    },
    boost: {
      control: boost?.control,
      wastegateCrackingKpa:
        from === undefined || to === undefined
          ? [convert(DEFAULT_CRACKING_PSI[0], 'psi', 'kPa'), convert(DEFAULT_CRACKING_PSI[1], 'psi', 'kPa')]
          : [gauge(from), gauge(to)],
      wastegateCrackingAssumed: cracking === undefined,
      targetKpa: gaugeOf(boost?.target),
      ceilingKpa: gaugeOf(boost?.ceiling),
    },
    bottomEnd: {
      torqueLimitNm: canonical('torque', sheet.bottomEnd?.torqueLimit),
      maxEthanolPercent: canonical('percent', sheet.bottomEnd?.maxEthanol),
    },
    fullLoadLambda: sheet.mixture?.fullLoadLambda,
    vehicle: {
      massKg: canonical('mass', vehicle?.mass),
      gearRatios: vehicle?.gearRatios ?? [],
      finalDrive: vehicle?.finalDrive,
      tyreCircumferenceM: canonical('length', vehicle?.tyreCircumference),
      dragAreaM2: canonical('area', vehicle?.dragArea),
    },
    expect: {
      disconnected: sheet.expect?.disconnected ?? [],
      ignoreCodes: (sheet.expect?.ignoreCodes ?? []).map(codeOf),
    },
    codes: (sheet.codes ?? []).map(codeOf),
    nextStepBoostKpa: gaugeOf(sheet.nextStep?.boost),
    required: sheet.required ?? [],
    limits: sheet.limits ?? {},
    handback: sheet.handback ?? [],
  };
}

const codeOf = (text: string) => text.trim().toUpperCase();

/** Trouble codes that are none: the same parser as for those of the command line. */
function codeProblems(sheet: BuildSheet): SettingsProblem[] {
  const problems: SettingsProblem[] = [];
  const look = (path: KeyPath, read: () => unknown) => {
    try {
      read();
    } catch (error) {
      if (!(error instanceof UserError)) throw error;
      problems.push({ path, what: error.what, mend: error.mend });
    }
  };
  const codes = sheet.codes ?? [];
  const isNone = (code: string) => code.trim().toLowerCase() === NO_CODES_STORED;
  for (const [i, code] of codes.entries()) if (!isNone(code)) look(['codes', i], () => parseTroubleCode(code));
  if (problems.length === 0 && codes.some(isNone)) look(['codes'], () => parseTroubleCodes(codes.join(',')));
  for (const [i, code] of (sheet.expect?.ignoreCodes ?? []).entries())
    look(['expect', 'ignoreCodes', i], () => parseTroubleCode(code));
  return problems;
}

/** What fits the schema and still cannot be. */
function contradictions(build: Build): SettingsProblem[] {
  const { engine, boost, injectors } = build;
  const problems: SettingsProblem[] = [];
  const below = 'A pressure is gauge unless written "… abs".';
  const [from, to] = boost.wastegateCrackingKpa;
  if (engine.idleRpm !== undefined && engine.idleRpm >= engine.redlineRpm) {
    problems.push({ path: ['engine', 'idle'], what: 'the idle speed is not below the redline.' });
  }
  for (const [path, kpa] of [
    [['boost', 'target'], boost.targetKpa],
    [['boost', 'ceiling'], boost.ceilingKpa],
    [['boost', 'wastegateCracking'], Math.min(from, to)],
    [['nextStep', 'boost'], build.nextStepBoostKpa],
    [['injectors', 'ratedPressure'], injectors.ratedPressureKpa],
    [['injectors', 'fuelPressure'], injectors.fuelPressureKpa],
  ] as const) {
    if (kpa !== undefined && kpa <= 0)
      problems.push({ path, what: 'this is not above the air pressure.', mend: below });
  }
  if (from > to) {
    problems.push({
      path: ['boost', 'wastegateCracking'],
      what: 'the pair runs from high to low.',
      mend: 'Write the lower pressure first.',
    });
  }
  if (boost.targetKpa !== undefined && boost.ceilingKpa !== undefined && boost.targetKpa > boost.ceilingKpa) {
    problems.push({ path: ['boost', 'ceiling'], what: 'the ceiling is below the target.' });
  }
  if (injectors.deadTime.some(([volts], i, all) => i > 0 && volts === all[i - 1][0])) {
    problems.push({
      path: ['injectors', 'deadTime'],
      what: 'one voltage has two dead times.',
      mend: 'Keep one pair for each voltage.',
    });
  }
  return problems;
}

/** Reads a build sheet into canonical units. Whatever is wrong comes as one UserError, each problem with its place and key path. */
export function parseBuildSheet(text: string, file: string): Build {
  const settings = readSettingsFile(text, file);
  const kind = (settings.value as { pullgate?: unknown } | null)?.pullgate;
  if (typeof kind === 'string' && kind.startsWith('map/')) {
    throw new UserError('this is a mapping, not a build sheet.', file, 'Give it with --map.');
  }
  if (typeof kind === 'string' && /^(report|summary|survey)\//.test(kind)) {
    const what = `this is a ${kind.split('/')[0]} of pullgate, not a build sheet.`;
    throw new UserError(what, file, 'Give the build sheet with --build.');
  }
  const problems = schemaProblems(BuildSheetSchema, settings.value);
  if (problems.length > 0) throw settingsError(settings, problems);
  const build = buildOf(settings.value as BuildSheet);
  const slips = [...contradictions(build), ...codeProblems(settings.value as BuildSheet)];
  if (slips.length > 0) throw settingsError(settings, slips);
  return build;
}
