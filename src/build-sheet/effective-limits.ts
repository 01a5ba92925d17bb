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

/** In per cent, a limit this many times below the default is a share of one. */
const SHARE_BELOW = 5;

const shown = (value: number, { unit }: LimitDefinition) =>
  unit === 'ratio' || unit === 'count' ? String(value) : `${value} ${unit}`;

/** What fits the unit and still cannot be meant. */
function refuseSlip(text: string, value: number, definition: LimitDefinition, usual: number, where: string): void {
  if (value <= 0) throw new UserError(`"${text}" trips on every log.`, where, 'A limit is above zero.');
  if (definition.unit !== '%' || value >= 1 || usual < SHARE_BELOW) return;
  const share = Number((100 * value).toPrecision(4));
  throw new UserError(
    `"${text}" is less than one per cent, and the default is ${usual} %.`,
    where,
    `If it is a share of one, write "${share} %".`,
  );
}

function override(text: string, definition: LimitDefinition, level: 'warn' | 'fail', where: string): number {
  const usual = definition[level] ?? definition.fail ?? definition.warn ?? 1;
  const value = readOverride(text, definition, usual, where);
  refuseSlip(text, value, definition, usual, where);
  return value;
}

function readOverride(text: string, definition: LimitDefinition, usual: number, where: string): number {
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
    throw new UserError(error.what, where, `Write it as for example "${shown(usual, definition)}".`);
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
      const warn =
        written.warn === undefined ? definition.warn : override(written.warn, definition, 'warn', `${path}.warn`);
      const fail =
        written.fail === undefined ? definition.fail : override(written.fail, definition, 'fail', `${path}.fail`);
      if (warn !== undefined && fail !== undefined && warn > fail) {
        const of = (level: 'warn' | 'fail') => (written[level] === undefined ? ' (the default)' : '');
        throw new UserError(
          `warn at ${shown(warn, definition)}${of('warn')} lies above fail at ${shown(fail, definition)}${of('fail')}.`,
          path,
          'Write both, the lower one as warn.',
        );
      }
      return [definition.id, { ...definition, warn, fail, source: 'build sheet', from: 'build sheet' }];
    }),
  );
}
