// Question: are there trouble codes that this build does not explain?
// A code is the controller's own finding over many drives; a log of minutes cannot overrule it.
// Unexplained = codes read by hand or written in the build sheet, minus those the build sheet expects. Layout: SAE J2012.
import { judge, limitOf } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { describeTroubleCode, isMassAirFlowCircuitCode } from '../engine/trouble-code.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import type { Cause, Finding } from './finding.ts';
import { type CodesRead, codesRead, type Logged, names, whileRunning } from './trouble-codes-evidence.ts';
import { lampFinding, UNREAD } from './trouble-codes-lamp.ts';
import { limitShown, notAssessedFinding } from './wording.ts';

const ID = 'trouble-codes.unexplained';

const meta: AnalyserMeta = {
  id: 'trouble-codes',
  title: 'Trouble codes',
  question: 'Are there trouble codes that this build does not explain?',
  needs: [],
  helps: ['malfunction_lamp', 'trouble_code_count'],
  formula:
    'unexplained (count) = codes read (--dtc, build sheet "codes") without those in "expect.ignoreCodes"; the lamp and the stored count are held against them',
  physics:
    'The controller stores a code when a check of its own failed, often over several drives. A stored code can change how the engine is run: limited boost, ' +
    'frozen trims, substitute sensor values. A base run judged over such a state says little about the calibration.',
  limits: [
    {
      id: ID,
      title: 'Unexplained codes, or lamp on',
      unit: 'count',
      warn: undefined,
      fail: 1,
      source: 'common practice, no source',
    },
  ],
  cannotSee: [
    'Pending codes that were not read, and codes of controllers that were not asked.',
    'Codes that were cleared shortly before the run: self-tests may not have run again yet.',
  ],
  cautions: ['Read and note stored codes with their freeze frames before clearing them.'],
};

const causesOf = (codes: readonly string[]): Cause[] =>
  codes.map((code) => ({ cause: describeTroubleCode(code), for: ['The code is stored.'], against: [] }));

function codesFinding(drive: Drive, context: AssessContext, read: CodesRead): Finding {
  const limit = limitOf(context.limits, ID);
  const n = read.unexplained.length;
  const stored = read.unexplained.length + read.explained.length;
  const reasoning = [
    stored === 0
      ? 'The fault memory was read by hand and held no code.'
      : `Read by hand: ${stored} code${stored === 1 ? '' : 's'} (${names([...read.unexplained, ...read.explained])}).`,
    ...(read.explained.length > 0 ? [`Explained by the build sheet: ${names(read.explained)}.`] : []),
    ...read.unexplained.map((code) => `Not explained: ${describeTroubleCode(code)}.`),
    ...(context.build.airflow === 'speed-density' && read.unexplained.some(isMassAirFlowCircuitCode)
      ? [
          'This calibration runs without an airflow meter: if the meter is unplugged on purpose, write it in expect.disconnected or expect.ignoreCodes.',
        ]
      : []),
  ];
  const plural = n === 1 ? 'code' : 'codes';
  return {
    id: ID,
    verdict: judge(n, limit),
    title:
      n > 0 ? `${n} ${plural} that this build does not explain: ${names(read.unexplained)}` : 'No unexplained code',
    measured: { value: n, unit: 'count' },
    limit: limitShown(limit),
    reasoning,
    where: n > 0 ? [{ start: 0, end: drive.recording.durationS }] : [],
    ...(n > 0
      ? {}
      : { detectable: 'Any code stored in the controllers that were read, at the time when they were read.' }),
    causes: causesOf(read.unexplained),
    next:
      n > 0
        ? [
            `Work through the stored ${plural} (${names(read.unexplained)}) with freeze frames before the next run.`,
            'Where a code belongs to this build, write it in expect.ignoreCodes with the reason in the job notes.',
          ]
        : [],
  };
}

function countFinding(drive: Drive, context: AssessContext, read: CodesRead, count: Logged): Finding {
  const limit = limitOf(context.limits, ID);
  const readCount = read.explained.length + read.unexplained.length;
  const mayExplain = read.wasRead ? readCount : context.build.expect.ignoreCodes.length;
  const beyond = Math.max(0, count.highest - mayExplain);
  const unread = !read.wasRead && count.highest > 0;
  const judged = judge(beyond, limit);
  const verdict = judged === 'pass' && unread ? 'warn' : judged;
  const reasoning = [
    `The controller counted ${count.highest} stored code${count.highest === 1 ? '' : 's'} at most${count.highest > 0 ? `, first at ${formatQuantity(count.firstS, 's')}` : ''}.`,
    ...(count.highest === 0
      ? []
      : read.wasRead
        ? [`${readCount} ${readCount === 1 ? 'was' : 'were'} read by hand, which leaves ${beyond} that nobody named.`]
        : [
            `The build sheet expects ${mayExplain}, which leaves ${beyond}. Nobody read which codes they are, so even an expected number is open.`,
          ]),
  ];
  return {
    id: 'trouble-codes.count',
    verdict,
    title:
      beyond > 0
        ? `${beyond} stored code${beyond === 1 ? '' : 's'} that nobody named`
        : unread
          ? 'Stored codes that were not read'
          : count.highest > 0
            ? 'Every stored code was read'
            : 'No stored code counted',
    measured: { value: verdict === 'warn' ? count.highest : beyond, unit: 'count' },
    limit: limitShown(limit),
    reasoning,
    where: verdict === 'pass' ? [] : [{ start: count.firstS, end: drive.recording.durationS }],
    ...(verdict === 'pass'
      ? { detectable: 'One stored code more than were read, in the controller that was logged.' }
      : {}),
    causes: verdict === 'pass' ? [] : [UNREAD],
    next: verdict === 'pass' ? [] : ['Read the fault memory and hand the codes over with --dtc.'],
  };
}

function assess(drive: Drive, context: AssessContext): Assessment {
  const read = codesRead(context);
  const lamp = whileRunning(drive, drive.recording.channels.get('malfunction_lamp'));
  const count = whileRunning(drive, drive.recording.channels.get('trouble_code_count'));
  const findings: Finding[] = [];
  if (read.wasRead) findings.push(codesFinding(drive, context, read));
  if (lamp) findings.push(lampFinding(limitOf(context.limits, ID), read, lamp));
  if (count) findings.push(countFinding(drive, context, read, count));
  if (findings.length === 0) {
    findings.push(
      notAssessedFinding(
        ID,
        'Nobody read the fault memory',
        'No codes were handed over, and the log has neither malfunction_lamp nor trouble_code_count.',
        ['Read the fault memory and hand the codes over with --dtc; --dtc none where it is empty.'],
      ),
    );
  }
  const grave = findings.find((f) => f.verdict === 'fail') ?? findings.find((f) => f.verdict === 'warn');
  return {
    summary: grave ? `${grave.title}.` : `${findings.map((f) => f.title).join('; ')}.`,
    findings,
    needs: read.wasRead
      ? []
      : ['--dtc CODES (or --dtc none where the fault memory was read and was empty)', 'codes (build sheet)'],
    tables: [],
  };
}

export const troubleCodes: Analyser = { meta, assess };
