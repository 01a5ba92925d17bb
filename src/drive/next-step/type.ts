/** A value with its 90 % interval. */
export interface Interval90 {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export const NEXT_STEP_IDS = [
  'duty',
  'fuel-flow',
  'rail-pressure',
  'charge-temperature',
  'torque',
  'knock',
  'peak-boost',
] as const;
export type NextStepId = (typeof NEXT_STEP_IDS)[number];

export interface NextStepLimit {
  readonly value: number;
  readonly source: string;
}

/** One quantity as a function of settled boost. */
export interface Projector {
  readonly id: NextStepId;
  readonly title: string;
  readonly unit: string;
  readonly now: Interval90;
  /** At a settled gauge boost, kPa. */
  readonly at: (boostKpa: number) => Interval90;
  readonly limit: NextStepLimit | undefined;
  /** What it rests on, each one sentence. */
  readonly basis: readonly string[];
}

/** What a projector lacks. */
export interface OpenProjection {
  readonly id: NextStepId;
  readonly title: string;
  readonly why: string;
  readonly needs: readonly string[];
}

export type ProjectorAnswer =
  | { readonly ok: true; readonly projector: Projector }
  | ({ readonly ok: false } & OpenProjection);

/** How much settled boost a limit still allows, kPa gauge. */
export interface Allowance {
  /** Where the value itself meets the limit; nothing where it does not as far as the log is carried. */
  readonly boostKpa: number | undefined;
  /** Where the upper end of the 90 % interval meets it. */
  readonly surelyKpa: number | undefined;
}

/** One quantity now and at the next step. */
export interface Projection {
  readonly id: NextStepId;
  readonly title: string;
  readonly unit: string;
  readonly now: Interval90;
  readonly next: Interval90;
  readonly limit: NextStepLimit | undefined;
  /** Where the next step stands: `possible` means that the interval reaches the limit and the value does not. */
  readonly standing: 'below' | 'possible' | 'at-or-above' | 'no-limit';
  readonly allows: Allowance | undefined;
  readonly reasoning: readonly string[];
}

/** The next step of boost, as far as one log can tell. Pressures kPa gauge. */
export interface NextStep {
  readonly settledKpa: number;
  readonly boostKpa: number;
  readonly from: 'build sheet' | 'proposed';
  /** Up to here the log supports a projection; limits are looked for up to `furthestKpa` and no further. */
  readonly supportedKpa: number;
  readonly furthestKpa: number;
  readonly beyondData: boolean;
  readonly projections: readonly Projection[];
  /** The limit that is met first as boost goes up. */
  readonly first:
    | { readonly id: NextStepId; readonly boostKpa: number; readonly surelyKpa: number | undefined }
    | undefined;
  readonly open: readonly OpenProjection[];
  readonly summary: string;
  readonly reasoning: readonly string[];
}

/** 90 % of a normal deviate lies within this many standard deviations. */
export const Z90 = 1.645;
