import type { Build } from '../../build-sheet/build.ts';
import { oncePer } from '../../kernel/once-per.ts';
import type { Drive, Pull } from '../drive.ts';
import { froze, type LivelyId } from '../health/frozen.ts';
import { type RailDropout, withoutDropouts } from '../health/rail-dropouts.ts';
import { type Expectation, expectationOf } from './drop.ts';
import { type RailReference, type Regulator, railReference, regulatorOf, sheetReference } from './regulator.ts';
import { type Rail, railSeries } from './series.ts';

/** Rail pressure as it can be judged, with what it should be. */
export interface JudgedRail {
  readonly rail: Rail;
  readonly dropouts: readonly RailDropout[];
  readonly regulator: Regulator;
  readonly reference: RailReference | undefined;
  readonly by: Expectation | { readonly missing: readonly string[] };
  /** Channels that the judgement rests on. */
  readonly restsOn: readonly LivelyId[];
}

/** One reading of rail pressure for all who ask of it; nothing where it is not logged. */
export function judgedRail(drive: Drive, build: Build): JudgedRail | undefined {
  return perDrive(drive)(build);
}

const perDrive = oncePer((drive: Drive) =>
  oncePer((build: Build): JudgedRail | undefined => {
    const logged = railSeries(drive);
    if (!logged) return undefined;
    const { rail, dropouts } = withoutDropouts(drive, logged);
    const regulator = regulatorOf(build, rail);
    const reference = railReference(rail) ?? sheetReference(build, rail, regulator);
    const by = expectationOf(drive, rail, regulator, reference);
    const byDifferential = 'by' in by && by.by.endsWith('differential');
    const restsOn = byDifferential
      ? (['fuel_rail_pressure', 'manifold_pressure'] as const)
      : (['fuel_rail_pressure'] as const);
    return { rail, dropouts, regulator, reference, by, restsOn };
  }),
);

/** Whether a pull can be judged by rail pressure: long enough, and none of the channels froze in it. */
export const isRailLive = (drive: Drive, { restsOn }: JudgedRail, pull: Pull): boolean =>
  pull.usable && !froze(drive, restsOn, pull);
