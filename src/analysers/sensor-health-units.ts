import { unitDoubts } from '../channels/unit-doubts.ts';
import type { Drive } from '../drive/drive.ts';
import type { Finding } from './finding.ts';
import { NO_SOURCE } from './sensor-health-findings.ts';

const DETECTABLE =
  'An air-fuel ratio read as lambda, absolute pressure read as gauge or the reverse, Fahrenheit read as Celsius, mbar read as kPa, a share of 1 read as percent, retard with the wrong sign.';

/** Units, references and signs of the mapping that the readings themselves contradict. */
export function unitsFinding(drive: Drive): Finding {
  const doubts = unitDoubts(drive.recording);
  const id = 'sensor-health.units';
  if (doubts.length === 0) {
    const reasoning = [
      'Every mapped channel moves as its unit, reference and sign would have it, as far as this log shows.',
    ];
    return {
      id,
      verdict: 'pass',
      title: 'Units that physics contradicts: none',
      reasoning,
      where: [],
      detectable: DETECTABLE,
      causes: [],
      next: [],
    };
  }
  return {
    id,
    verdict: 'fail',
    title: 'The readings contradict the unit, reference or sign of the mapping',
    measured: { value: doubts.length, unit: 'count' },
    limit: { fail: 1, unit: 'count', source: NO_SOURCE },
    reasoning: doubts,
    where: [{ start: 0, end: drive.recording.durationS }],
    causes: [{ cause: 'A wrong unit, reference, scale or sign in the mapping', for: doubts, against: [] }],
    next: [...doubts, 'Then check the log again: verdicts from a wrong unit are worth nothing.'],
  };
}
