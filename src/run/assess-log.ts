import { ANALYSER_IDS, ANALYSERS } from '../analysers/registry.ts';
import type { Build } from '../build-sheet/build.ts';
import { checkBuildIds } from '../build-sheet/check-build-ids.ts';
import { effectiveLimits } from '../build-sheet/effective-limits.ts';
import { parseBuildSheet } from '../build-sheet/read-build-sheet.ts';
import { CHANNEL_IDS } from '../channels/catalogue.ts';
import { normalise } from '../channels/normalise.ts';
import type { Drive } from '../drive/drive.ts';
import { nextStep } from '../drive/next-step/next-step.ts';
import { segmentDrive } from '../drive/segment-drive.ts';
import { answer, unlessBroken } from '../report/answer.ts';
import { assembleReport } from '../report/assemble.ts';
import { causesOf } from '../report/causes/causes-of.ts';
import { suggestedCorrections } from '../report/corrections.ts';
import { nextStepReport } from '../report/next-step-report.ts';
import { type PullCourses, pullCourses } from '../report/pull-courses.ts';
import { type PullTraces, pullTraces } from '../report/pull-traces.ts';
import type { Report } from '../report/report-schema.ts';
import { refuseWrongRedline } from './build-fits-log.ts';
import type { LogInput } from './log-input.ts';
import { namingFiles, readMapped } from './read-mapped.ts';
import { sha256 } from './sha256.ts';

/** One log from bytes to report: no clock, no files, no process. Throws UserError for a log or sheet that cannot be used. */
export function assessLog(input: LogInput): Report {
  return assess(input).report;
}

/** The same, and what text can draw of the pulls in which something was found. */
export function assessLogWithCourses(input: LogInput): { report: Report; courses: PullCourses | undefined } {
  const { report, drive, build } = assess(input);
  return { report, courses: pullCourses(drive, build, report) };
}

/** The same, and what to draw of each pull. */
export function assessLogWithTraces(input: LogInput): {
  report: Report;
  courses: PullCourses | undefined;
  traces: PullTraces[];
} {
  const { report, drive, build } = assess(input);
  return { report, courses: pullCourses(drive, build, report), traces: pullTraces(drive, build) };
}

function assess(input: LogInput): { report: Report; drive: Drive; build: Build } {
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
  namingFiles(input, () => refuseWrongRedline(build, recording, input.build.name));
  const drive = segmentDrive(recording, build);
  const context = { build, limits, codes };
  const answers = analysers.map((analyser) => answer(analyser, drive, context));
  const faults: string[] = [];
  const causes = unlessBroken('likely causes', faults, () => causesOf({ answers, drive, build, codes })) ?? [];
  const step = unlessBroken('next step', faults, () => nextStep(drive, build, limits));
  const corrections = unlessBroken('corrections', faults, () => suggestedCorrections(drive, build, answers, causes));
  const report = assembleReport({
    version,
    file: name,
    table,
    mapping: source,
    buildSource: { title: build.title ?? input.build.name, sha256: sha256(input.build.text) },
    build,
    drive,
    answers,
    analyserCautions: analysers.flatMap((analyser) => analyser.meta.cautions),
    limits,
    causes,
    corrections,
    nextStep: step && nextStepReport(step),
    faults,
  });
  return { report, drive, build };
}
