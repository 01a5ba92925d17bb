import * as z from 'zod/mini';
import { described } from '../kernel/described.ts';
import { UserError } from '../kernel/user-error.ts';
import { parseQuantity } from '../units/parse-quantity.ts';
import type { Dimension } from '../units/units.ts';

/** What is wrong with a quantity, or nothing. */
export function quantityProblem(text: string, dimension: Dimension): string | undefined {
  try {
    parseQuantity(text, dimension);
    return undefined;
  } catch (error) {
    if (error instanceof UserError) return error.message;
    throw error;
  }
}

/** A share of one written as per cent. */
const shareInstead = (text: string, value: number) =>
  `"${text}" is less than one per cent. If it is a share of one, write "${Number((100 * value).toPrecision(4))} %"; for next to nothing write "0 %".`;

/** A quantity of the build sheet: a text with its unit. `least` and `most` are in the canonical unit; `noShare` refuses less than one per cent. */
export function quantity(
  dimension: Dimension,
  example: string,
  description: string,
  range: { readonly above?: number; readonly least?: number; readonly most?: number; readonly noShare?: boolean } = {},
) {
  const withUnit = `Write it as a text with its unit, for example "${example}".`;
  return described(
    z.string({ error: withUnit }).check(
      z.check((context) => {
        const problem = quantityProblem(context.value, dimension);
        const { value } = problem === undefined ? parseQuantity(context.value, dimension) : { value: 0 };
        const {
          above = Number.NEGATIVE_INFINITY,
          least = Number.NEGATIVE_INFINITY,
          most = Number.POSITIVE_INFINITY,
        } = range;
        const outside = problem === undefined && !(value > above && value >= least && value <= most);
        const message =
          problem ??
          (outside ? `"${context.value}" cannot be right here. An example: "${example}".` : undefined) ??
          (range.noShare && value > 0 && value < 1 ? shareInstead(context.value, value) : undefined);
        if (message !== undefined) context.issues.push({ code: 'custom', message, input: context.value });
      }),
    ),
    `${description} Example: "${example}".`,
  );
}
