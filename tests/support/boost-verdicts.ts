import type { Analyser, Assessment } from '../../src/analysers/analyser.ts';
import { boostCreep } from '../../src/analysers/boost-creep.ts';
import { boostOvershoot } from '../../src/analysers/boost-overshoot.ts';
import { boostSpike } from '../../src/analysers/boost-spike.ts';
import type { Finding, Verdict } from '../../src/analysers/finding.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { Build } from '../../src/build-sheet/build.ts';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import { type BoostLogSpec, boostDrive } from './boost-signals.ts';
import { aBuild } from './build-sheet.ts';

const BOOST = [boostOvershoot, boostSpike, boostCreep];

export function assessBoost(analyser: Analyser, log: BoostLogSpec, build: Build = aBuild()): Assessment {
  const definitions = BOOST.flatMap((each) => each.meta.limits);
  const limits = effectiveLimits(definitions, build, 'test.build.json');
  return analyser.assess(boostDrive(log), { build, limits, codes: [] });
}

/** Verdicts of overshoot, spike and creep on one log, joined by slashes. */
export function boostVerdicts(log: BoostLogSpec, build?: Build): string {
  return BOOST.map((analyser): Verdict => worst(assessBoost(analyser, log, build).findings)).join('/');
}

export function findingOf(assessment: Assessment, id: string): Finding {
  const finding = assessment.findings.find((each) => each.id === id);
  if (!finding) throw new Error(`no finding ${id} among ${assessment.findings.map((each) => each.id).join(', ')}`);
  return finding;
}
