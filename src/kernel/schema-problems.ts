import * as z from 'zod/mini';
import { didYouMean } from './near-name.ts';
import type { KeyPath } from './settings-file.ts';
import type { SettingsProblem } from './settings-problem.ts';

/** What zod says where no language is loaded and the schema has no words of its own. */
const UNTOLD = 'Invalid input';

type Issue = z.core.$ZodIssue;

/** The parts of a schema's definition that lead to the schemas inside it. */
interface Definition {
  readonly shape?: Record<string, z.core.$ZodType>;
  readonly innerType?: z.core.$ZodType;
  readonly options?: readonly z.core.$ZodType[];
  readonly items?: readonly z.core.$ZodType[];
  readonly element?: z.core.$ZodType;
  readonly keyType?: z.core.$ZodType;
  readonly valueType?: z.core.$ZodType;
  readonly entries?: Record<string, string>;
}

const definition = (schema: z.core.$ZodType) => schema._zod.def as Definition;

/** The schema that stands at a path, inside whatever wraps it. */
function schemaAt(schema: z.core.$ZodType, path: KeyPath): z.core.$ZodType | undefined {
  const def = definition(schema);
  if (def.innerType) return schemaAt(def.innerType, path);
  if (path.length === 0) return schema;
  const [key, ...rest] = path;
  if (def.options) {
    return def.options.map((option) => schemaAt(option, path)).find((found) => found !== undefined);
  }
  const next = def.shape?.[key as string] ?? def.items?.[key as number] ?? def.element ?? def.valueType;
  return next && schemaAt(next, rest);
}

/** The keys an object may have at a path of the schema. */
function knownKeys(schema: z.core.$ZodType, path: KeyPath): string[] {
  const at = schemaAt(schema, path);
  const def = at ? definition(at) : {};
  if (def.options) return def.options.flatMap((option) => knownKeys(option, []));
  if (def.shape) return Object.keys(def.shape);
  return def.keyType ? Object.keys(definition(def.keyType).entries ?? {}) : [];
}

function valueAt(value: unknown, path: KeyPath): unknown {
  return path.reduce<unknown>((at, key) => (at as Record<string | number, unknown> | undefined)?.[key], value);
}

function shown(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'an object';
  if (typeof value === 'string') return JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}…` : value);
  return `the ${typeof value} ${String(value)}`;
}

const KINDS: Record<string, string> = {
  string: 'a text in quotes',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object in { }',
  record: 'an object in { }',
  array: 'a list in [ ]',
  tuple: 'a list in [ ]',
};

const listed = (values: readonly unknown[]) => values.map((v) => JSON.stringify(v)).join(', ');

/** Keys that a union's option neither knows nor lacks count against it; the option with least against it is what was meant. */
function weight(issues: readonly Issue[]): number {
  return issues.reduce((sum, issue) => {
    const wrongKind = issue.code === 'invalid_type' && issue.path.length === 0;
    return sum + (wrongKind ? 100 : issue.code === 'unrecognized_keys' ? issue.keys.length : 1);
  }, 0);
}

/** Keys beyond these are told without a near name. */
const NEAR_NAMES_SOUGHT = 50;

function unknownKeys(allKnown: readonly string[], path: KeyPath, keys: readonly string[]): SettingsProblem[] {
  const known = allKnown.filter((key) => !keys.includes(key));
  const all = known.length > 0 && known.length <= 16 ? `Known keys: ${known.join(', ')}.` : undefined;
  return keys.map((key, i) => ({
    path: [...path, key],
    what: `${shown(key)} is not a key that can stand here.`,
    mend: (i < NEAR_NAMES_SOUGHT ? didYouMean(key, known) : undefined) ?? all,
  }));
}

function bound(issue: Issue & { code: 'too_small' | 'too_big' }): string {
  const small = issue.code === 'too_small';
  const limit = small ? issue.minimum : issue.maximum;
  if (issue.origin === 'string') return 'It must not be empty.';
  if (issue.origin === 'array') return `It needs ${small ? 'at least' : 'at most'} ${limit} of them.`;
  const relation = small ? (issue.inclusive ? 'at least' : 'above') : issue.inclusive ? 'at most' : 'below';
  return `It must be ${relation} ${limit}.`;
}

/** A number that stands in quotes. */
const unquoted = (found: unknown, expected: string) =>
  (expected === 'number' || expected === 'int') && typeof found === 'string' && Number.isFinite(Number(found))
    ? ', without quotes'
    : '';

/** `schema` is the one that stands at `around`; the issue's path counts from there. */
function problemsOfIssue(schema: z.core.$ZodType, value: unknown, issue: Issue, around: KeyPath): SettingsProblem[] {
  const path = [...around, ...(issue.path as KeyPath)];
  const found = valueAt(value, path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return unknownKeys(knownKeys(schema, issue.path as KeyPath), path, issue.keys);
    case 'invalid_union': {
      const weights = issue.errors.map(weight);
      const nearest = weights.indexOf(Math.min(...weights));
      if (nearest < 0) break;
      const union = schemaAt(schema, issue.path as KeyPath);
      const option = union && definition(union).options?.[nearest];
      return issue.errors[nearest].flatMap((inner) => problemsOfIssue(option ?? schema, value, inner, path));
    }
    case 'custom':
      return [{ path, what: issue.message }];
    default:
  }
  const what = found === undefined ? `"${path.at(-1) ?? ''}" is missing.` : `found ${shown(found)}.`;
  if (issue.message !== UNTOLD) return [{ path, what, mend: issue.message }];
  switch (issue.code) {
    case 'invalid_type':
      return [
        {
          path,
          what,
          mend: `It must be ${KINDS[issue.expected] ?? issue.expected}${unquoted(found, issue.expected)}.`,
        },
      ];
    case 'invalid_value':
      return [
        {
          path,
          what,
          mend: [
            typeof found === 'string' ? didYouMean(found, issue.values.map(String)) : undefined,
            `It can be ${listed(issue.values)}.`,
          ]
            .filter(Boolean)
            .join(' '),
        },
      ];
    case 'too_small':
    case 'too_big':
      return [{ path, what, mend: bound(issue) }];
    default:
      return [{ path, what, mend: 'It is not in the form expected here.' }];
  }
}

/** Every way in which the value does not fit the schema, in plain words with near names; empty where it fits. */
export function schemaProblems(schema: z.core.$ZodType, value: unknown): SettingsProblem[] {
  const result = z.safeParse(schema, value, { jitless: true });
  if (result.success) return [];
  return result.error.issues.flatMap((issue) => problemsOfIssue(schema, value, issue, []));
}
