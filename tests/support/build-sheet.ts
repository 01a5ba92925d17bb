import type { Build } from '../../src/build-sheet/build.ts';

const PLAIN: Build = {
  title: 'Test car',
  engine: {
    displacementL: 2,
    cylinders: 4,
    strokes: 4,
    redlineRpm: 6900,
    idleRpm: 820,
    volumetricEfficiency: undefined,
  },
  airflow: undefined,
  ethanolPercent: undefined,
  ambient: { barometricKpa: undefined, source: undefined },
  injectors: {
    flowCcMin: undefined,
    ratedPressureKpa: undefined,
    fuelPressureKpa: undefined,
    regulator: undefined,
    pulsesPerCycle: 1,
    deadTime: [],
  },
  boost: {
    control: undefined,
    wastegateCrackingKpa: [20.68, 41.37],
    wastegateCrackingAssumed: true,
    targetKpa: undefined,
    ceilingKpa: undefined,
  },
  bottomEnd: { torqueLimitNm: undefined, maxEthanolPercent: undefined },
  fullLoadLambda: undefined,
  vehicle: {
    massKg: undefined,
    gearRatios: [],
    finalDrive: undefined,
    tyreCircumferenceM: undefined,
    dragAreaM2: undefined,
  },
  expect: { disconnected: [], ignoreCodes: [] },
  codes: [],
  nextStepBoostKpa: undefined,
  required: [],
  limits: {},
  handback: [],
};

type Part<T> = { readonly [K in keyof T]?: T[K] extends readonly unknown[] ? T[K] : Part<T[K]> };

/** A plain two-litre build sheet with the given sections changed. */
export function aBuild(changes: Part<Build> = {}): Build {
  const merged: Record<string, unknown> = { ...PLAIN };
  for (const [key, value] of Object.entries(changes)) {
    const plain = merged[key];
    const isSection = typeof value === 'object' && value !== null && !Array.isArray(value);
    merged[key] = isSection ? { ...(plain as object), ...value } : value;
  }
  return merged as unknown as Build;
}
