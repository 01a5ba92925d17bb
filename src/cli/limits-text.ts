import { formatQuantity } from '../kernel/format-number.ts';
import { textTable } from '../render/terminal/text-table.ts';
import { wrap } from '../render/terminal/wrap.ts';
import type { LimitsInForce } from '../run/limits-in-force.ts';

/** Every limit with where it came from; for those of the build sheet also the default that they stand in place of. */
export function limitsText({ build, limits }: LimitsInForce, width: number): string {
  const rows = limits.map(({ id, unit, warn, fail, from, source, default: usual }) => [
    id,
    level(warn, unit),
    level(fail, unit),
    from === 'default' ? `default: ${source}` : `build sheet; default ${levels(usual.warn, usual.fail, unit)}`,
  ]);
  const columns = [
    { name: 'Limit' },
    { name: 'Warn', align: 'right' as const },
    { name: 'Fail', align: 'right' as const },
    { name: 'Where from' },
  ];
  const about = build
    ? `Limits in force for ${build.file}: the defaults, and what the build sheet put in their place. A value at or above a limit trips it.`
    : 'Default limits: no build sheet was given and none lies here or above. A value at or above a limit trips it.';
  return `${[...wrap(about, width), '', ...textTable(columns, rows, width)].join('\n')}\n`;
}

function level(value: number | null, unit: string): string {
  return value === null ? '–' : formatQuantity(value, unit);
}

const levels = (warn: number | null, fail: number | null, unit: string) =>
  `${level(warn, unit)} / ${level(fail, unit)}`;
