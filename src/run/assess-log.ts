import { ANALYSER_IDS, ANALYSERS } from '../analysers/registry.ts';
import { checkBuildIds } from '../build-sheet/check-build-ids.ts';
import { effectiveLimits } from '../build-sheet/effective-limits.ts';
import { parseBuildSheet } from '../build-sheet/read-build-sheet.ts';
import { CHANNEL_IDS } from '../channels/catalogue.ts';
import { normalise } from '../channels/normalise.ts';
import { segmentDrive } from '../drive/segment-drive.ts';
import { answer } from '../report/answer.ts';
import { assembleReport } from '../report/assemble.ts';
import type { Report } from '../report/report-schema.ts';
import type { LogInput } from './log-input.ts';
import { namingFiles, readMapped } from './read-mapped.ts';
import { sha256 } from './sha256.ts';

/** One log from bytes to report: no clock, no files, no process. Throws UserError for a log or sheet that cannot be used. */
export function assessLog(input: LogInput): Report {
  const { name, version, analysers = ANALYSERS, codes = [] } = input;
  const build = parseBuildSheet(input.build.text, input.build.name);
  checkBuildIds(build, { analysers: ANALYSER_IDS, channels: CHANNEL_IDS }, input.build.name);
  const definitions = ANALYSERS.flatMap((analyser) => analyser.meta.limits);
  const limits = effectiveLimits(definitions, build, input.build.name);
  const { table, mapping, source, columnNames } = readMapped(input);
  const recording = namingFiles(input, () =>
    normalise(table, mapping, {
      barometricKpa: build.ambient.barometricKpa,
      barometricFrom: build.ambient.source,
      columnNames,
    }),
  );
  const drive = segmentDrive(recording, build);
  const context = { build, limits, codes };
  return assembleReport({
    version,
    file: name,
    table,
    mapping: source,
    buildSource: { title: build.title ?? input.build.name, sha256: sha256(input.build.text) },
    build,
    drive,
    answers: analysers.map((analyser) => answer(analyser, drive, context)),
    analyserCautions: analysers.flatMap((analyser) => analyser.meta.cautions),
  });
}
