import { cleanTemperature } from '../drive/charge/clean.ts';
import type { Drive, Pull } from '../drive/drive.ts';
import { indexAtOrAfter } from '../drive/pull-series.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { DataTable, Finding } from './finding.ts';
import { pullPlace } from './wording.ts';

/** Full load on an engine colder than this is hard on it, °C. */
const COLD_C = 60;

const degrees = (value: number) => formatQuantity(value, 'degC');

export const FLUIDS = [
  { id: 'temperatures.coolant', channel: 'coolant_temperature', name: 'Coolant' },
  { id: 'temperatures.oil', channel: 'oil_temperature', name: 'Oil' },
] as const;
export type Fluid = (typeof FLUIDS)[number];

interface AtPull {
  readonly pull: Pull;
  readonly start: number | undefined;
  readonly top: number | undefined;
}

export function atPulls(drive: Drive, fluid: Fluid): AtPull[] {
  const t = cleanTemperature(drive, fluid.channel);
  return drive.pulls.map((pull) => {
    if (!t) return { pull, start: undefined, top: undefined };
    const at = indexAtOrAfter(t.time, pull.startS + 0.5) - 1;
    const start = at >= 0 && pull.startS - t.time[at] <= Math.max(5, t.gapS) ? t.values[at] : undefined;
    const cut = t.values.subarray(indexAtOrAfter(t.time, pull.startS), indexAtOrAfter(t.time, pull.endS + 5));
    return { pull, start, top: cut.length > 0 ? cut.reduce((a, b) => Math.max(a, b)) : undefined };
  });
}

/** Full load on a cold engine: told, no limit of its own. */
export function coldFinding(pulls: readonly (readonly [Fluid, readonly AtPull[]])[]): Finding | undefined {
  const cold = pulls.flatMap(([fluid, at]) =>
    at.flatMap(({ pull, start }) => (start !== undefined && start < COLD_C ? [{ fluid, pull, start }] : [])),
  );
  if (cold.length === 0) return undefined;
  const coldest = cold.reduce((a, b) => (b.start < a.start ? b : a));
  return {
    id: 'temperatures.cold-pull',
    verdict: 'pass',
    title: `Full load on a cold engine: ${coldest.fluid.name.toLowerCase()} at ${degrees(coldest.start)} at the start of pull ${coldest.pull.id}`,
    measured: { value: coldest.start, unit: 'degC' },
    reasoning: [
      ...cold.map(
        ({ fluid, pull, start }) =>
          `Pull ${pull.id} began with ${fluid.name.toLowerCase()} at ${degrees(start)}, below ${degrees(COLD_C)}.`,
      ),
      'Cold, the mixture is still enriched, clearances are wide and oil is thick: it wears the engine, and what the pull shows is not what a warm engine does.',
    ],
    where: [...new Set(cold.map(({ pull }) => pull))].map((pull) => pullPlace(pull)),
    detectable: `A pull begun with coolant or oil below ${degrees(COLD_C)} is told, where they are logged.`,
    causes: [],
    next: ['Warm the engine up fully, oil included, and repeat the pulls before judging them.'],
  };
}

/** One row a pull. */
export function pullTable(drive: Drive, [coolant, oil]: readonly (readonly AtPull[])[]): DataTable {
  return {
    id: 'temperatures.pulls',
    title: 'Coolant and oil by pull',
    columns: [
      { name: 'pull', unit: '' },
      ...['coolant at start', 'coolant highest', 'oil at start', 'oil highest'].map((name) => ({ name, unit: 'degC' })),
    ],
    rows: drive.pulls.map((pull, i) => [
      String(pull.id),
      coolant[i].start ?? null,
      coolant[i].top ?? null,
      oil[i].start ?? null,
      oil[i].top ?? null,
    ]),
  };
}
