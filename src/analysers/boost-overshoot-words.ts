import type { PullOutcome } from './boost-evidence.ts';
import type { Cause, DataTable } from './finding.ts';

/** What to check, cheapest first. */
export const OVERSHOOT_NEXT = [
  'Check the control line and its clamps from pressure source to actuator: off, split, kinked, leaking, too long.',
  'Turn the controller one step down (or take a few percent off the wastegate duty during the rise) and log one more pull.',
  'Check the actuator: preload, free travel, a membrane that holds pressure.',
  'If it stays: a larger or faster actuator, or a gate and port that flow more.',
];

/** What can make boost overshoot, with what this log says for and against. */
export function overshootCauses(
  outcomes: readonly PullOutcome[],
  manual: boolean | undefined,
  hasTarget: boolean,
): Cause[] {
  const bad = outcomes.filter((o) => o.verdict === 'warn' || o.verdict === 'fail');
  const judged = outcomes.filter((o) => o.value !== undefined);
  const repeats = bad.length > 1 && bad.length === judged.length;
  const every = repeats ? [`it repeats in ${bad.length} of ${judged.length} pulls`] : [];
  const once = !repeats && judged.length > 1 ? [`only ${bad.length} of ${judged.length} pulls show it`] : [];
  const rings = bad.some((o) => o.boost.ringing) ? ['boost rings after the peak'] : [];
  return [
    {
      cause: 'The actuator gets its signal late: long, thin or leaking control line, or a restrictor in it',
      for: [...every, ...rings],
      against: once,
    },
    {
      cause: manual
        ? 'The hand-set controller holds the gate shut until boost is at its setting'
        : 'The boost control holds the gate shut too long during the rise',
      for: every,
      against: once,
    },
    { cause: 'The actuator is slow or sticks at the start of its travel', for: [...once, ...rings], against: [] },
    ...(hasTarget
      ? []
      : [
          {
            cause: 'A boost target that is higher at this engine speed',
            for: [],
            against: ['no target is logged, so this can not be excluded'],
          },
        ]),
  ];
}

/** One row a pull: peak, excess and how boost came up. */
export function overshootTable(outcomes: readonly PullOutcome[]): DataTable {
  const column = (name: string, unit: string) => ({ name, unit });
  return {
    id: 'boost-overshoot.pulls',
    title: 'First rise, pull by pull',
    columns: [
      column('pull', ''),
      column('settled boost', 'kPa'),
      column('peak', 'kPa'),
      column('excess', '%'),
      column('low', '%'),
      column('high', '%'),
      column('rise time 10-90 %', 's'),
      column('settling time', 's'),
      column('ringing period', 's'),
      column('damping ratio', ''),
      column('verdict', ''),
    ],
    rows: outcomes.map(({ boost, value, low, high, verdict }) => {
      const judged = value !== undefined;
      return [
        boost.pull.id,
        boost.rise?.settledKpa ?? null,
        boost.rise?.peakKpa ?? boost.peak.boostKpa,
        value ?? null,
        judged ? low : null,
        judged ? high : null,
        boost.rise?.riseTimeS ?? null,
        boost.rise?.settlingTimeS ?? null,
        boost.ringing?.periodS ?? null,
        boost.ringing?.dampingRatio ?? null,
        verdict,
      ];
    }),
  };
}
