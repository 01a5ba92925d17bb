import { type StepCase, simulateStep } from '../../fixtures/generator/step-case.ts';
import { boostTarget } from '../../src/analysers/boost-target.ts';
import { torque } from '../../src/analysers/torque.ts';
import { effectiveLimits } from '../../src/build-sheet/effective-limits.ts';
import { parseBuildSheet } from '../../src/build-sheet/read-build-sheet.ts';
import { normalise } from '../../src/channels/normalise.ts';
import { nextStep } from '../../src/drive/next-step/next-step.ts';
import type { NextStep } from '../../src/drive/next-step/type.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { torqueEstimate } from '../../src/drive/torque/estimate.ts';
import type { TorqueRoute } from '../../src/drive/torque/route.ts';
import { readMapped } from '../../src/run/read-mapped.ts';

/** What the program makes of a generated car, beside its truth. */
export interface StepMeasures {
  readonly step: StepCase;
  /** N m; nothing where the log does not allow the route. */
  readonly airflowNm: number | undefined;
  readonly accelerationNm: number | undefined;
  readonly answer: NextStep | undefined;
}

/** Drive and build sheet of a generated case. */
function read({ generated, buildText }: StepCase) {
  const build = parseBuildSheet(buildText, 'pullgate.build.json');
  const { table, mapping, columnNames } = readMapped({
    name: generated.name,
    chunks: [generated.bytes],
    mapping: { text: generated.mappingText, name: 'pullgate.map.json' },
    build: { text: buildText, name: 'pullgate.build.json' },
    version: 'accuracy',
  });
  const recording = normalise(table, mapping, {
    barometricKpa: build.ambient.barometricKpa,
    barometricFrom: build.ambient.source,
    columnNames,
  });
  return { build, drive: segmentDrive(recording, build) };
}

const highest = (route: TorqueRoute) =>
  route.ok ? Math.max(...route.pulls.map((measured) => measured.peak.nm)) : undefined;

export function measureStep(options: Parameters<typeof simulateStep>[0]): StepMeasures {
  const step = simulateStep(options);
  const { build, drive } = read(step);
  const { routes } = torqueEstimate(drive, build);
  const limits = effectiveLimits([...torque.meta.limits, ...boostTarget.meta.limits], build, 'pullgate.build.json');
  return {
    step,
    airflowNm: highest(routes.airflow),
    accelerationNm: highest(routes.acceleration),
    answer: nextStep(drive, build, limits),
  };
}
