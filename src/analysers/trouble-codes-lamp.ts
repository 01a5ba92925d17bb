import { judge, type Limit } from '../build-sheet/limit.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, Finding } from './finding.ts';
import { type CodesRead, type Logged, names } from './trouble-codes-evidence.ts';
import { limitShown } from './wording.ts';

/** What a lamp or a count says where nobody read the codes. */
export const UNREAD: Cause = {
  cause: 'A stored code that nobody has read yet',
  for: ['The lamp or the count says that one is stored.'],
  against: [],
};

/** Every lamp lights after key-on to show that it works: told, no fault. */
function selfTestFinding(limit: Limit, lamp: Logged): Finding {
  return {
    id: 'trouble-codes.lamp',
    verdict: 'pass',
    title: 'Malfunction lamp off after its own test',
    measured: { value: 0, unit: 'count' },
    limit: limitShown(limit),
    reasoning: [
      `The malfunction lamp was on from the start of the log to ${formatQuantity(lamp.lastS, 's')} and off in all ${lamp.of - lamp.on} updates after: that is how the lamp tests itself after key-on. A stored fault would have kept it on.`,
    ],
    where: [{ start: lamp.firstS, end: lamp.lastS }],
    detectable: 'A lamp that was on for at least one update after its own test.',
    causes: [],
    next: [],
  };
}

export function lampFinding(limit: Limit, read: CodesRead, lamp: Logged): Finding {
  const on = lamp.on > 0;
  if (lamp.isSelfTest) return selfTestFinding(limit, lamp);
  const explained = on && read.explained.length > 0;
  const blink = lamp.on === 1 && lamp.of >= 20;
  const verdict = !on || explained ? 'pass' : blink ? 'warn' : judge(1, limit);
  const share = formatQuantity((100 * lamp.on) / lamp.of, '%');
  const reasoning = on
    ? [
        `The malfunction lamp was on in ${lamp.on} of ${lamp.of} updates with the engine running (${share}), first at ${formatQuantity(lamp.firstS, 's')}.`,
        explained
          ? `The code${read.explained.length === 1 ? '' : 's'} ${names(read.explained)}, expected by the build sheet, can light it. A lamp that is already on cannot announce a new fault.`
          : blink
            ? 'A single update out of many may be a slip of the logger; only reading the fault memory can tell.'
            : read.wasRead
              ? 'No code that the build sheet expects was read, so nothing explains the lamp.'
              : 'No codes were read, so nothing explains the lamp.',
      ]
    : [`The malfunction lamp was off in all ${lamp.of} updates with the engine running.`];
  return {
    id: 'trouble-codes.lamp',
    verdict,
    title: on
      ? explained
        ? 'Malfunction lamp on, explained by an expected code'
        : 'Malfunction lamp on'
      : 'Malfunction lamp off',
    measured: { value: on && !explained ? 1 : 0, unit: 'count' },
    limit: limitShown(limit),
    reasoning,
    where: on ? [{ start: lamp.firstS, end: lamp.lastS }] : [],
    ...(verdict === 'pass'
      ? { detectable: 'A lamp that was on for at least one update with the engine running.' }
      : {}),
    causes: verdict === 'pass' ? [] : [UNREAD],
    next: verdict === 'pass' ? [] : ['Read the fault memory and hand the codes over with --dtc.'],
  };
}
