import type { Build } from '../build-sheet/build.ts';
import type { Unsettled } from '../drive/boost/settled-boost.ts';
import type { PullOutcome } from './boost-evidence.ts';
import type { Cause, DataTable } from './finding.ts';

/** What to check, cheapest first. */
export function creepNext(neverSettled: boolean): string[] {
  const line =
    'Check the control line and its clamps from pressure source to actuator: off, split, kinked, leaking, too long.';
  if (neverSettled) {
    return [
      line,
      'Press the actuator with a hand pump: it must hold pressure and move the gate over its whole travel.',
      'Set the controller fully open to the actuator (lowest boost) and log one short pull, lifting at once if boost passes the spring pressure.',
      'Check gate, arm and shaft for sticking.',
    ];
  }
  return [
    line,
    'Set the controller one step lower and log one more pull: boost that still climbs comes from the gate, not from the setting.',
    'Check actuator travel and preload: the gate has to open fully before the redline.',
    'If it stays: enlarge or reshape the gate port, or fit a larger gate; a freer exhaust makes creep worse, not better.',
  ];
}

/** What can make boost climb, with what this log says for and against. */
export function creepCauses(outcomes: readonly PullOutcome[], unsettled: Unsettled | undefined, build: Build): Cause[] {
  const judged = outcomes.filter((o) => o.value !== undefined);
  const bad = judged.filter((o) => o.verdict !== 'pass');
  const every =
    bad.length > 1 && bad.length === judged.length ? [`it repeats in ${bad.length} of ${judged.length} pulls`] : [];
  const once =
    bad.length < judged.length ? [`${judged.length - bad.length} of ${judged.length} pulls do not show it`] : [];
  const manual = build.boost.control === 'manual' ? ['the boost is set by hand'] : [];
  if (unsettled === 'swinging') {
    return [
      { cause: 'A loose or leaking control line', for: ['boost swings and does not die down', ...every], against: [] },
      { cause: 'A controller whose gain or dead volume lets it hunt', for: every, against: manual },
    ];
  }
  if (unsettled === 'climbing') {
    return [
      {
        cause: 'No control pressure at the actuator: line off, burnt through or blocked',
        for: ['boost climbs without a knee', ...every],
        against: once,
      },
      { cause: 'Gate, arm or actuator stuck shut', for: ['boost climbs without a knee', ...every], against: once },
      {
        cause: 'A turbocharger that spools late, or a charge-air leak that keeps boost from its level',
        for: [],
        against: [],
      },
    ];
  }
  return [
    {
      cause: 'The open gate cannot pass the exhaust flow of high engine speed',
      for: ['boost settled and then climbed with engine speed', ...every],
      against: once,
    },
    {
      cause: 'The gate does not open fully: short travel, too much preload, or a soft signal',
      for: manual,
      against: [],
    },
    {
      cause: 'A controller setting or target that rises with engine speed',
      for: [],
      against: build.boost.control === 'manual' ? ['a hand-set controller has no map over engine speed'] : [],
    },
  ];
}

/** One row a pull: level, end, slope and rise. */
export function creepTable(outcomes: readonly PullOutcome[]): DataTable {
  const column = (name: string, unit: string) => ({ name, unit });
  return {
    id: 'boost-creep.pulls',
    title: 'Settled boost, pull by pull',
    columns: [
      column('pull', ''),
      column('settled at', 'rpm'),
      column('settled boost', 'kPa'),
      column('at the end', 'kPa'),
      column('slope per 1,000 rpm', 'kPa'),
      column('rise', 'kPa'),
      column('low', 'kPa'),
      column('high', 'kPa'),
      column('verdict', ''),
    ],
    rows: outcomes.map(({ boost, value, low, high, verdict }) => {
      const settled = boost.unsettled ? undefined : boost.settled;
      const judged = value !== undefined;
      return [
        boost.pull.id,
        settled?.settleRpm ?? null,
        settled?.levelKpa ?? null,
        settled?.endKpa ?? boost.endBoostKpa,
        settled ? 1000 * settled.last.slopeKpaPerRpm : null,
        value ?? null,
        judged ? low : null,
        judged ? high : null,
        verdict,
      ];
    }),
  };
}
