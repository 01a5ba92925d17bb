import { describe, expect, it } from 'vitest';
import type { Finding, Place } from '../../src/analysers/finding.ts';
import type { Drive } from '../../src/drive/drive.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { type CourseId, pullCourses } from '../../src/report/pull-courses.ts';
import type { Report } from '../../src/report/report-schema.ts';
import { type ChannelData, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';
import { baseRun } from '../support/drive-script.ts';
import { sampleReport } from '../support/sample-report.ts';

const BARO = 100;
const build = aBuild();

/** Two pulls from 2,500 to 6,700 rpm whose duty and retard are known functions of engine speed. */
function drive(rateHz: number, duty: (rpm: number) => number, retard: (rpm: number, t: number) => number): Drive {
  const base = baseRun(rateHz);
  const of = (value: (rpm: number, t: number, pedal: number) => number): ChannelData => {
    const { time, values } = base.engine_speed;
    return {
      time,
      values: Array.from(values, (rpm, i) => value(rpm, time[i], base.accelerator_position.values[i])),
      rateHz,
    };
  };
  const recording = recordingFrom({
    channels: {
      ...base,
      manifold_pressure: of((rpm, _t, pedal) => (rpm === 0 ? BARO : pedal > 90 ? BARO + 80 : 35)),
      injector_duty: of((rpm, _t, pedal) => (pedal > 90 ? duty(rpm) : 5)),
      knock_retard_1: of((rpm, t, pedal) => (pedal > 90 ? retard(rpm, t) : 0)),
    },
    barometricKpa: BARO,
  });
  return segmentDrive(recording, build);
}

function reportOf(where: readonly Place[], verdict: Finding['verdict'] = 'fail', id = 'timing-pull'): Report {
  const [{ findings, ...answer }] = sampleReport().analysers;
  const finding = { ...findings[0], verdict, where: [...where] };
  return sampleReport({ analysers: [{ ...answer, id, title: 'Timing pull', verdict, findings: [finding] }] });
}

const linear = (rpm: number) => rpm / 100;
const bump = (rpm: number) => Math.max(0, 6 - Math.abs(rpm - 4500) / 100);

function course(found: ReturnType<typeof pullCourses>, pull: number, id: CourseId): (rpm: number) => number {
  const values = found?.pulls.find((one) => one.pull === pull)?.courses.find((one) => one.id === id)?.values;
  if (!found || !values) throw new Error(`no ${id} in pull ${pull}`);
  return (rpm) => values[Math.floor((rpm - found.fromRpm) / found.bandRpm)];
}

describe('courses of the pulls', () => {
  it.each([50, 20, 5])('at %i Hz hold the highest value of each band', (rateHz) => {
    const log = drive(rateHz, linear, bump);
    const [pull] = log.pulls;
    const found = pullCourses(
      log,
      build,
      reportOf([{ pull: 1, start: pull.startS, end: pull.endS, rpm: [4400, 4600] }]),
    );
    const duty = course(found, 1, 'duty');
    const band = found?.bandRpm ?? Number.NaN;
    // Between two updates a straight line is drawn; a rising line is highest at the end of its band.
    for (let rpm = 3000; rpm < 6500; rpm += 250) {
      expect(Math.abs(duty(rpm) - linear(rpm))).toBeLessThanOrEqual(linear(band) + 1e-6);
    }
    // 700 rpm a second: the summit lies at most half an update from a sample.
    expect(course(found, 1, 'retard')(4500)).toBeGreaterThan(6 - 350 / rateHz / 100 - linear(band));
    expect(course(found, 1, 'retard')(3500)).toBeCloseTo(0, 6);
    expect(course(found, 1, 'boost')(5000)).toBeCloseTo(80, 1);
  });

  it('are those of the pulls in which something is found', () => {
    const log = drive(20, linear, bump);
    const places = (pulls: readonly number[]) =>
      pulls.map((pull) => ({ pull, start: log.pulls[pull - 1].startS, end: log.pulls[pull - 1].endS }));
    expect(pullCourses(log, build, reportOf(places([2])))?.pulls.map(({ pull }) => pull)).toEqual([2]);
    expect(pullCourses(log, build, reportOf(places([1, 2])))?.pulls.map(({ pull }) => pull)).toEqual([1, 2]);
    expect(pullCourses(log, build, reportOf(places([1]), 'pass'))).toBeUndefined();
    expect(pullCourses(log, build, reportOf([{ start: 4, end: 9, rpm: [820, 820] }]))).toBeUndefined();
  });

  it('take the engine speed of a mark from the log where the finding names none', () => {
    const log = drive(20, linear, bump);
    const { startS } = log.pulls[0];
    const found = pullCourses(log, build, reportOf([{ pull: 1, start: startS + 2, end: startS + 3 }]));
    const [low, high] = found?.pulls[0].marks[0].rpm[0] ?? [0, 0];
    // 2,500 to 6,700 rpm in 6 s are 700 rpm a second.
    expect(high - low).toBeGreaterThan(600);
    expect(high - low).toBeLessThanOrEqual(700 + 1e-6);
  });

  it('mark an analyser once, by the gravest of its findings in the pull', () => {
    const log = drive(20, linear, bump);
    const report = reportOf([{ pull: 1, start: 46, end: 47, rpm: [4400, 4600] }]);
    const [answer] = report.analysers;
    const lesser = { ...answer.findings[0], id: 'x', verdict: 'warn' as const };
    const both = { ...report, analysers: [{ ...answer, findings: [lesser, ...answer.findings] }] };
    expect(pullCourses(log, build, both)?.pulls[0].marks).toEqual([
      { analyser: 'timing-pull', title: 'Timing pull', verdict: 'fail', rpm: [[4400, 4600]] },
    ]);
  });

  it('leave bands empty where the log is silent', () => {
    const log = drive(20, (rpm) => (rpm > 4000 && rpm < 5500 ? Number.NaN : linear(rpm)), bump);
    const found = pullCourses(log, build, reportOf([{ pull: 1, start: 46, end: 47, rpm: [4400, 4600] }]));
    expect(course(found, 1, 'duty')(4700)).toBeNaN();
    expect(course(found, 1, 'duty')(3900)).toBeGreaterThan(38);
  });
});
