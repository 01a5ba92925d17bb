import type { Drive } from '../drive/drive.ts';
import { valueAt } from '../drive/duty/next-step.ts';
import type { RailDrop } from '../drive/rail/drop.ts';
import type { RailReference, Regulator } from '../drive/rail/regulator.ts';
import { flowAtPressure } from '../engine/orifice-flow.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, DataTable } from './finding.ts';
import { pullPlace, withInterval } from './wording.ts';

const LOW_VOLTS = 13;

/** Injector flow at a pressure against that at another, % less. */
export const flowLossPercent = (thenKpa: number, nowKpa: number): number =>
  100 - flowAtPressure(100, thenKpa, Math.max(0, nowKpa));

/** There is no more to fall than all of it. */
export function withinAll(drop: RailDrop): RailDrop {
  const all = (percent: number) => Math.min(100, percent);
  return {
    ...drop,
    value: all(drop.value),
    low: all(drop.low),
    high: all(drop.high),
    actualKpa: Math.max(0, drop.actualKpa),
  };
}

/** A fall that leaves half of the flow or less: on that no engine pulls on. Common practice, no source. */
const NO_ENGINE_PULLS_PERCENT = 75;

/** Whether the fall grows with engine speed beyond its own scatter, % points per 1,000 rpm. */
export function grows(drop: RailDrop): boolean {
  return drop.slope !== undefined && drop.slope.low > 0 && drop.slope.per1000 >= 0.5;
}

export function dropCauses(drive: Drive, drop: RailDrop, regulator: Regulator): Cause[] {
  const flow: Cause = { cause: 'Pump, filter or line cannot pass the fuel that full load takes', for: [], against: [] };
  const slope = drop.slope;
  if (slope) {
    const words = `the fall changes by ${withInterval(slope.per1000, slope.low, slope.high, '%')} per 1,000 rpm`;
    (grows(drop) ? flow.for : flow.against).push(words);
  }
  if (drop.recoveredAfterS !== undefined) {
    flow.for.push(`pressure is back ${formatQuantity(drop.recoveredAfterS, 's')} after the pull`);
  }
  const hose: Cause = {
    cause: 'The regulator does not feel the manifold: reference hose off, split or blocked',
    for:
      regulator.contradicts && regulator.seen === 'fixed'
        ? ['rail pressure does not follow the manifold off boost either']
        : [],
    against: regulator.seen === 'manifold-referenced' ? ['off boost rail pressure follows the manifold'] : [],
  };
  const volts = valueAt(drive, 'battery_voltage', drop.atS);
  const supply: Cause = { cause: 'The pump gets too little voltage', for: [], against: [] };
  if (volts !== undefined)
    (volts < LOW_VOLTS ? supply.for : supply.against).push(
      `${formatQuantity(volts, 'V')} at the battery there; the pump itself may see less`,
    );
  const sensor: Cause = {
    cause: 'The sensor is referenced otherwise than taken: relative to the manifold, or absolute',
    for: drop.value < 0 ? ['pressure seems to rise'] : [],
    against: [],
  };
  const blind: Cause = {
    cause: 'Not the pressure but its sensor: plug, supply or wiring',
    for: [`an engine does not pull on with ${formatQuantity(drop.value, '%')} of its fuel pressure gone`],
    against: [],
  };
  const score = (cause: Cause) => cause.for.length - cause.against.length;
  const ranked = [flow, hose, supply, sensor].sort((a, b) => score(b) - score(a));
  return drop.value >= NO_ENGINE_PULLS_PERCENT ? [blind, ...ranked] : ranked;
}

export const DROP_NEXT = [
  'No further full-load pull until fuel pressure holds.',
  'Check the reference hose of the regulator, then voltage and earth at the pump under load.',
  'Check filter and lines; measure pump flow at working pressure.',
  'Confirm with a mechanical gauge under load.',
] as const;

/** One row a pull. */
export function dropTable(drive: Drive, drops: readonly RailDrop[], reference: RailReference | undefined): DataTable {
  return {
    id: 'fuel-pressure.pulls',
    title: 'Fuel pressure by pull',
    columns: [
      { name: 'pull', unit: '' },
      { name: 'fall', unit: '%' },
      { name: 'low', unit: '%' },
      { name: 'high', unit: '%' },
      { name: 'engine speed', unit: 'rpm' },
      { name: 'pressure', unit: 'kPa' },
      { name: 'should be', unit: 'kPa' },
      { name: 'across the injector', unit: 'kPa' },
      { name: 'flow against idle', unit: '%' },
      { name: 'back after', unit: 's' },
      { name: 'note', unit: '' },
    ],
    rows: drive.pulls.map((pull) => {
      const d = drops.find((drop) => drop.pull === pull);
      if (!d)
        return [
          String(pull.id),
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          pull.usable ? 'not judged: too few readings' : 'not judged: too short',
        ];
      const across = Number.isFinite(d.differentialKpa) ? d.differentialKpa : null;
      const flow =
        across === null || !reference || reference.from === 'build sheet' || !(reference.differentialKpa > 0)
          ? null
          : -flowLossPercent(reference.differentialKpa, across);
      return [
        String(pull.id),
        d.value,
        d.low,
        d.high,
        d.rpm,
        d.actualKpa,
        d.expectedKpa,
        across,
        flow,
        d.recoveredAfterS ?? null,
        '',
      ];
    }),
  };
}

/** Where the fall was, in the log. */
export const dropPlaces = (drops: readonly RailDrop[]) =>
  drops.map((d) =>
    d.beyond
      ? pullPlace(d.pull, d.beyond.startS, d.beyond.endS, [d.beyond.rpm[0], d.beyond.rpm[1]])
      : pullPlace(d.pull, d.atS, d.atS, [d.rpm, d.rpm]),
  );
