import type { Build } from '../../build-sheet/build.ts';
import type { LimitTable } from '../../build-sheet/limit.ts';
import type { Drive } from '../drive.ts';
import { stepBasis, stepBoostKpa } from './basis.ts';
import { chargeProjector, knockProjector, peakBoostProjector, torqueProjector } from './engine.ts';
import { dutyProjector, fuelFlowProjector } from './fuel.ts';
import { allowanceOf, standingOf } from './limit.ts';
import { railProjector } from './rail.ts';
import type { NextStep, Projection, Projector } from './type.ts';
import { projectionWords, stepReasons, stepSummary } from './words.ts';

/** A projection is supported to this much more absolute pressure, and made to this much. Common practice, no source. */
const SUPPORTED_SHARE = 0.15;
const FURTHEST_SHARE = 0.35;

/** The limit that is met first as boost goes up. */
function firstMet(projections: readonly Projection[]): NextStep['first'] {
  let first: NextStep['first'];
  for (const { id, allows } of projections) {
    if (allows?.boostKpa === undefined || (first && first.boostKpa <= allows.boostKpa)) continue;
    first = { id, boostKpa: allows.boostKpa, surelyKpa: allows.surelyKpa };
  }
  return first;
}

/**
 * What the next step of boost does to duty, fuel flow, rail pressure, charge temperature, torque, knock and peak boost, each with a 90 %
 * interval, what boost each limit still allows, and which limit is met first. Nothing where boost settled in no pull.
 */
export function nextStep(drive: Drive, build: Build, limits: LimitTable): NextStep | undefined {
  const basis = stepBasis(drive);
  if (!basis) return undefined;
  const { settledKpa, barometricKpa } = basis;
  const { boostKpa, from } = stepBoostKpa(build, settledKpa);
  const absolute = barometricKpa + settledKpa;
  const reach = {
    settledKpa,
    boostKpa,
    supportedKpa: settledKpa + SUPPORTED_SHARE * absolute,
    furthestKpa: settledKpa + FURTHEST_SHARE * absolute,
  };
  const answers = [
    dutyProjector(drive, build, limits, basis),
    fuelFlowProjector(drive, build, basis),
    railProjector(drive, build, limits, basis),
    chargeProjector(limits, basis),
    torqueProjector(drive, build, limits, basis),
    knockProjector(drive, build, limits, basis),
    peakBoostProjector(build, basis),
  ];
  const project = (projector: Projector): Projection => {
    const { id, title, unit, now, limit } = projector;
    const next = projector.at(boostKpa);
    const allows = allowanceOf(projector, settledKpa, reach.furthestKpa);
    const reasoning = projectionWords(projector, next, allows, reach);
    return { id, title, unit, now, next, limit, standing: standingOf(next, limit), allows, reasoning };
  };
  const projections = answers.flatMap((answer) => (answer.ok ? [project(answer.projector)] : []));
  const open = answers.flatMap((answer) => {
    if (answer.ok) return [];
    const { id, title, why, needs } = answer;
    return [{ id, title, why, needs }];
  });
  const step = {
    ...reach,
    from,
    beyondData: boostKpa > reach.supportedKpa,
    projections,
    first: firstMet(projections),
    open,
  };
  return { ...step, summary: stepSummary(step), reasoning: stepReasons(step, basis.notes) };
}
