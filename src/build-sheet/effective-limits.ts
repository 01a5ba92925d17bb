import { didYouMean } from '../kernel/near-name.ts';
import { UserError } from '../kernel/user-error.ts';
import { convert } from '../units/convert.ts';
import { parseQuantity } from '../units/parse-quantity.ts';
import { CANONICAL_UNIT, type Dimension, UNITS, type Unit } from '../units/units.ts';
import type { Build } from './build.ts';
import type { Limit, LimitDefinition, LimitTable } from './limit.ts';

const isUnit = (name: string): name is Unit => name in UNITS;

function dimensionOfLimit(unit: string): Dimension {
  if (unit === 'ratio') return 'mixture';
  if (isUnit(unit)) return UNITS[unit].dimension;
  return 'count';
}

function override(text: string, definition: LimitDefinition, where: string): number {
  const dimension = dimensionOfLimit(definition.unit);
  try {
    const { value, reference } = parseQuantity(text, dimension);
    if (reference === 'absolute') {
      throw new UserError(`"${text}" is absolute.`, undefined, 'This limit is a difference; leave "abs" out.');
    }
    const isOwnUnit = definition.unit === 'ratio' || !isUnit(definition.unit);
    return isOwnUnit ? value : convert(value, CANONICAL_UNIT[dimension], definition.unit as Unit);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    const example = definition.fail ?? definition.warn ?? 1;
    const unit = dimension === 'mixture' || dimension === 'count' ? '' : ` ${definition.unit}`;
    throw new UserError(error.what, where, `Write it as for example "${example}${unit}".`);
  }
}

/**
 * The limits in force: each definition, or what the build sheet put in its place. A limit id nobody declares, a unit
 * that does not fit, and a warn above its fail are UserErrors with their key path.
 */
export function effectiveLimits(definitions: readonly LimitDefinition[], build: Build, file: string): LimitTable {
  const ids = definitions.map((definition) => definition.id);
  for (const id of Object.keys(build.limits)) {
    if (ids.includes(id)) continue;
    throw new UserError(
      `there is no limit "${id}".`,
      `${file}, limits`,
      didYouMean(id, ids) ?? '"pullgate limits" lists them.',
    );
  }
  return new Map(
    definitions.map((definition): [string, Limit] => {
      const written = Object.hasOwn(build.limits, definition.id) ? build.limits[definition.id] : undefined;
      if (!written) return [definition.id, { ...definition, from: 'default' }];
      const path = `${file}, limits["${definition.id}"]`;
      const warn = written.warn === undefined ? definition.warn : override(written.warn, definition, `${path}.warn`);
      const fail = written.fail === undefined ? definition.fail : override(written.fail, definition, `${path}.fail`);
      if (warn !== undefined && fail !== undefined && warn > fail) {
        const kept = written.warn === undefined || written.fail === undefined ? ' One of them is the default.' : '';
        throw new UserError(`warn at ${warn} lies above fail at ${fail}.${kept}`, path, 'Give both, warn first.');
      }
      return [definition.id, { ...definition, warn, fail, source: 'build sheet', from: 'build sheet' }];
    }),
  );
}
