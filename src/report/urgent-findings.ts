import type { Finding } from '../analysers/finding.ts';

/** Lean, short of fuel pressure, knocking, or over the ceiling: an engine can go in the next pull. */
const EVER: ReadonlySet<string> = new Set([
  'mixture.lean-error',
  'mixture.lean-limit',
  'fuel-pressure.drop',
  'timing-pull.peak',
  'timing-pull.repeat',
  'boost-overshoot.ceiling',
  'boost-spike.ceiling',
  'boost-creep.ceiling',
]);
/** The same once it fails: boost that climbs without end, injectors with nothing left. */
const WHERE_IT_FAILS: ReadonlySet<string> = new Set(['boost-creep.rise', 'injector-duty.peak']);

/** Whether a warning or failure is of what can wreck the engine within one pull. Such findings are told before others of their verdict. */
export function isUrgent({ id, verdict }: Pick<Finding, 'id' | 'verdict'>): boolean {
  if (verdict === 'fail') return EVER.has(id) || WHERE_IT_FAILS.has(id);
  return verdict === 'warn' && EVER.has(id);
}
