import type { LimitTable } from '../../build-sheet/limit.ts';
import type { Allowance, Interval90, NextStepLimit, Projection, Projector } from './type.ts';

/** The level at which a measure fails (or warns, where it cannot fail), as a projection is held against it. */
export function limitFrom(limits: LimitTable, id: string): NextStepLimit | undefined {
  const limit = limits.get(id);
  const value = limit?.fail ?? limit?.warn;
  return limit && value !== undefined ? { value, source: `${id}, ${limit.source}` } : undefined;
}

const ROUNDS = 40;

/** The boost at which a growing quantity meets a value, by bisection; `fromKpa` where it is met already, nothing where it is not met by `toKpa`. */
function meets(of: (boostKpa: number) => number, value: number, fromKpa: number, toKpa: number): number | undefined {
  if (of(fromKpa) >= value) return fromKpa;
  if (!(of(toKpa) >= value)) return undefined;
  let [low, high] = [fromKpa, toKpa];
  for (let i = 0; i < ROUNDS; i++) {
    const middle = (low + high) / 2;
    if (of(middle) >= value) high = middle;
    else low = middle;
  }
  return high;
}

export function allowanceOf(projector: Projector, fromKpa: number, toKpa: number): Allowance | undefined {
  const { limit, at } = projector;
  if (!limit) return undefined;
  return {
    boostKpa: meets((kpa) => at(kpa).value, limit.value, fromKpa, toKpa),
    surelyKpa: meets((kpa) => at(kpa).high, limit.value, fromKpa, toKpa),
  };
}

export function standingOf({ value, high }: Interval90, limit: NextStepLimit | undefined): Projection['standing'] {
  if (!limit) return 'no-limit';
  if (value >= limit.value) return 'at-or-above';
  return high >= limit.value ? 'possible' : 'below';
}
