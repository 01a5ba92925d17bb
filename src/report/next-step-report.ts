import type { Interval90, NextStep } from '../drive/next-step/type.ts';
import type { NextStepReport } from './next-step-schema.ts';
import { roundMeasure, roundOrNull } from './round.ts';

const interval = ({ value, low, high }: Interval90) => ({
  value: roundOrNull(value),
  low: roundOrNull(low),
  high: roundOrNull(high),
});

/** The next step as the report carries it. */
export function nextStepReport(step: NextStep): NextStepReport {
  return {
    settledBoost: roundMeasure(step.settledKpa),
    boost: roundMeasure(step.boostKpa),
    from: step.from,
    supportedBoost: roundMeasure(step.supportedKpa),
    furthestBoost: roundMeasure(step.furthestKpa),
    beyondData: step.beyondData,
    summary: step.summary,
    ...(step.first && {
      first: {
        id: step.first.id,
        boost: roundMeasure(step.first.boostKpa),
        surely: roundOrNull(step.first.surelyKpa),
      },
    }),
    projections: step.projections.map(({ id, title, unit, now, next, limit, standing, allows, reasoning }) => ({
      id,
      title,
      unit,
      now: interval(now),
      next: interval(next),
      ...(limit && { limit: { value: limit.value, source: limit.source } }),
      standing,
      ...(allows && {
        allows: {
          boost: roundOrNull(allows.boostKpa),
          surely: roundOrNull(allows.surelyKpa),
          ...(allows.boostKpa === undefined && { beyond: roundMeasure(step.furthestKpa) }),
        },
      }),
      reasoning: [...reasoning],
    })),
    open: step.open.map(({ id, title, why, needs }) => ({ id, title, why, needs: [...needs] })),
    reasoning: [...step.reasoning],
  };
}
