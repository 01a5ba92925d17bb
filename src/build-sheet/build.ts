/** The build sheet in canonical units. Pressures are kPa gauge unless the name says otherwise. */
export interface Build {
  readonly title: string | undefined;
  readonly engine: {
    readonly displacementL: number;
    readonly cylinders: number;
    readonly strokes: 2 | 4;
    readonly redlineRpm: number;
    readonly idleRpm: number | undefined;
    readonly volumetricEfficiency: number | undefined;
  };
  readonly airflow: 'speed-density' | 'mass-air-flow' | undefined;
  readonly ethanolPercent: number | undefined;
  readonly ambient: { readonly barometricKpa: number | undefined; readonly source: string | undefined };
  readonly injectors: {
    readonly flowCcMin: number | undefined;
    readonly ratedPressureKpa: number | undefined;
    readonly fuelPressureKpa: number | undefined;
    readonly regulator: 'manifold-referenced' | 'fixed' | undefined;
    readonly pulsesPerCycle: number;
    /** Battery voltage (V) → dead time (ms), by rising voltage. */
    readonly deadTime: readonly (readonly [number, number])[];
  };
  readonly boost: {
    readonly control: 'manual' | 'electronic' | 'none' | undefined;
    /** Pressure band in which the actuator starts to open; `assumed` when the sheet leaves it out. */
    readonly wastegateCrackingKpa: readonly [number, number];
    readonly wastegateCrackingAssumed: boolean;
    readonly targetKpa: number | undefined;
    readonly ceilingKpa: number | undefined;
  };
  readonly bottomEnd: { readonly torqueLimitNm: number | undefined; readonly maxEthanolPercent: number | undefined };
  readonly fullLoadLambda: number | undefined;
  readonly vehicle: {
    readonly massKg: number | undefined;
    readonly gearRatios: readonly number[];
    readonly finalDrive: number | undefined;
    readonly tyreCircumferenceM: number | undefined;
    readonly dragAreaM2: number | undefined;
  };
  readonly expect: { readonly disconnected: readonly string[]; readonly ignoreCodes: readonly string[] };
  readonly codes: readonly string[];
  readonly nextStepBoostKpa: number | undefined;
  readonly required: readonly string[];
  /** Limit overrides as written: limit id → warn and fail with their units. */
  readonly limits: Readonly<Record<string, { readonly warn?: string; readonly fail?: string }>>;
  readonly handback: readonly { readonly item: string; readonly done: boolean }[];
}
