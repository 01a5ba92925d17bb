import type { BoostPull } from '../drive/boost/settled-boost.ts';
import type { TargetError } from '../drive/boost/target-error.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { PullOutcome } from './boost-evidence.ts';
import type { Cause, DataTable } from './finding.ts';

/** What to check, cheapest first. */
export function targetNext(above: boolean): string[] {
  return above
    ? [
        'Do not repeat the pull at this setting.',
        'Check the control line from the compressor to the actuator: off, kinked, leaking, a restrictor in it.',
        'Turn the controller down, or check the wastegate duty table.',
        'Check that the actuator moves freely and the gate opens in full.',
      ]
    : [
        'Pressure-test the charge side: hoses, clamps, cooler, recirculation valve.',
        'Check that the gate closes in full and that the actuator has its preload.',
        'Check the air filter and the exhaust for a restriction.',
        'Check the controller setting or the wastegate duty table.',
      ];
}

/** A target without "abs" that is this near to settled boost plus the outside air is an absolute one, kPa and share of settled boost. Common practice, no source. */
const ABSOLUTE_WITHIN = { kpa: 5, share: 0.1 } as const;

/** That the target may be an absolute pressure taken as gauge; nothing where it does not look like that. */
export function absoluteTargetCause(
  { settledKpa, targetKpa }: TargetError,
  barometricKpa: number,
  isLogged: boolean,
): Cause | undefined {
  const off = Math.abs(targetKpa - barometricKpa - settledKpa);
  if (off > Math.max(ABSOLUTE_WITHIN.kpa, ABSOLUTE_WITHIN.share * settledKpa)) return undefined;
  const kpa = (value: number) => formatQuantity(value, 'kPa');
  return {
    cause: isLogged
      ? 'The logged target is absolute, and the mapping takes it as gauge'
      : 'The target on the build sheet is an absolute pressure: then write "abs" behind it',
    for: [
      `${kpa(targetKpa)} less ${kpa(barometricKpa)} of outside air is ${kpa(targetKpa - barometricKpa)}, and boost settles on ${kpa(settledKpa)}`,
    ],
    against: [],
  };
}

/** What can put settled boost off its target, with what this log says for and against. */
export function targetCauses(above: boolean, outcomes: readonly PullOutcome[]): Cause[] {
  const judged = outcomes.filter((o) => o.value !== undefined);
  const bad = judged.filter((o) => o.verdict !== 'pass');
  const repeats =
    judged.length > 1 && bad.length === judged.length ? [`it repeats in all ${judged.length} judged pulls`] : [];
  const once = judged.length > bad.length ? [`only ${bad.length} of ${judged.length} judged pulls show it`] : [];
  const creeps = bad.some((o) => (o.boost.settled?.riseLow ?? 0) > 0) ? ['boost also climbs with engine speed'] : [];
  const falls = bad.some((o) => (o.boost.settled?.riseHigh ?? 0) < 0) ? ['boost also falls off towards the top'] : [];
  return above
    ? [
        { cause: 'The controller is set too high, or its duty table asks for too much', for: repeats, against: once },
        { cause: 'The actuator gets too little signal: line off, leaking or restricted', for: repeats, against: once },
        { cause: 'The gate cannot pass the surplus', for: creeps, against: [] },
      ]
    : [
        { cause: 'A leak on the charge side', for: repeats, against: once },
        { cause: 'The gate opens early: soft spring, no preload, controller set too low', for: repeats, against: once },
        { cause: 'The turbo or the intake is at its end', for: falls, against: [] },
      ];
}

/** One row a pull: settled, target, error. */
export function targetTable(
  outcomes: readonly PullOutcome[],
  measure: (boost: BoostPull) => TargetError | undefined,
): DataTable {
  const column = (name: string, unit: string) => ({ name, unit });
  return {
    id: 'boost-target.pulls',
    title: 'Settled boost against target, pull by pull',
    columns: [
      column('pull', ''),
      column('settled boost', 'kPa'),
      column('target', 'kPa'),
      column('error', '%'),
      column('low', '%'),
      column('high', '%'),
      column('verdict', ''),
    ],
    rows: outcomes.map(({ boost, value, verdict }) => {
      const error = value === undefined ? undefined : measure(boost);
      return [
        String(boost.pull.id),
        error?.settledKpa ?? boost.settled?.levelKpa ?? null,
        error?.targetKpa ?? null,
        error?.percent ?? null,
        error?.low ?? null,
        error?.high ?? null,
        verdict,
      ];
    }),
  };
}
