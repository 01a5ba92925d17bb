import { parseNumber } from './cell-number.ts';
import { unitSuffix } from './cell-suffix.ts';
import { classifyCell } from './classify-cell.ts';
import type { CellRules, ColumnBuilder } from './column-builder.ts';
import type { HeadRecord } from './head-records.ts';
import { columnNames, renamedNote, unitFromCell } from './header-names.ts';
import { longerThanHeader, MOST_COLUMNS, tooManyColumns } from './layout-errors.ts';
import { isMissing } from './missing-tokens.ts';
import type { Layout } from './sniff-layout.ts';
import type { CellKind } from './table.ts';
import { isUnitLike } from './unit-like.ts';

interface ColumnPlan {
  readonly names: readonly string[];
  readonly repeats: readonly (string | undefined)[];
  readonly units: readonly (string | undefined)[];
  readonly notes: readonly string[];
}

function lastFilled(cells: readonly string[]): number {
  let last = cells.length;
  while (last > 0 && cells[last - 1] === '') last--;
  return last;
}

/** The fields of the file: names, units, and how far the rows reach. */
export function planColumns(
  layout: Layout,
  rules: CellRules,
  fileName: string,
  mayShow: (columnName: string) => boolean,
): ColumnPlan {
  const { sample } = layout;
  const named = lastFilled(layout.names?.cells ?? []);
  const widths = sample.map((record) => lastFilled(record.cells));
  const headerWidth = layout.names ? layout.names.cells.length : Math.max(0, ...widths);
  const reach = Math.max(named, Math.min(headerWidth, Math.max(0, ...widths)));
  if (reach > MOST_COLUMNS) {
    throw tooManyColumns(fileName, layout.names?.line ?? layout.dataLine, reach);
  }
  const longer = widths.findIndex((width) => width > reach);
  if (longer >= 0 && widths.filter((width) => width > reach).length > sample.length / 2) {
    throw longerThanHeader(fileName, sample[longer].line, reach);
  }
  const decode = (cell: string | undefined) => rules.decoder.decode(cell ?? '');
  const texts = Array.from({ length: reach }, (_, i) => decode(layout.names?.cells[i]));
  const prefix = layout.commentPrefix;
  if (prefix !== '' && texts.length > 0 && texts[0].startsWith(prefix) && texts[0].length > prefix.length) {
    texts[0] = texts[0].slice(prefix.length);
  }
  const { names, repeats } = columnNames(texts);
  const renamed = names.filter((_, i) => repeats[i] !== undefined);
  const notes = [renamedNote(renamed, mayShow)].filter((note) => note !== undefined);
  const trailing = sample.length > 0 && sample.every((record) => record.cells.length > reach);
  return {
    names,
    repeats,
    units: names.map((_, i) => layout.units && unitFromCell(decode(layout.units.cells[i]))),
    notes: trailing ? [...notes, 'Every row ends with a delimiter; the empty last cell was left out.'] : notes,
  };
}

/** The kind that most sample cells of a field have, and the unit that all of them carry. */
function sampleKind(
  sample: readonly HeadRecord[],
  field: number,
  rules: CellRules,
): { kind: CellKind | undefined; suffix: string | undefined } {
  const tally: Record<CellKind, number> = { number: 0, clock: 0, timestamp: 0, text: 0 };
  let filled = 0;
  let suffix: string | undefined;
  let suffixed = 0;
  for (const { cells } of sample) {
    const cell = cells[field] ?? '';
    if (cell === '') continue;
    const plain = !Number.isNaN(parseNumber(cell, rules.decimalChar)) && !rules.missing.given.has(cell);
    if (plain) {
      filled++;
      tally.number++;
      continue;
    }
    const text = rules.decoder.decode(cell).trim();
    if (text === '' || isMissing(rules.missing, text)) continue;
    filled++;
    const kind = classifyCell(text, rules.decimalChar);
    tally[kind]++;
    if (kind !== 'text') continue;
    const found = unitSuffix(text, rules.decimalChar);
    suffix ??= found;
    if (found !== undefined && found === suffix) suffixed++;
  }
  if (filled === 0) return { kind: undefined, suffix: undefined };
  if (suffix !== undefined && suffixed === filled && (filled >= 3 || isUnitLike(suffix)))
    return { kind: 'number', suffix };
  const kinds: CellKind[] = ['number', 'clock', 'timestamp', 'text'];
  return { kind: kinds.reduce((best, kind) => (tally[kind] > tally[best] ? kind : best)), suffix: undefined };
}

export function startColumn(
  plan: ColumnPlan,
  field: number,
  layout: Layout,
  rules: CellRules,
  capacity: number,
): ColumnBuilder {
  return {
    name: plan.names[field],
    repeats: plan.repeats[field],
    unitText: plan.units[field],
    ...sampleKind(layout.sample, field, rules),
    values: new Float64Array(capacity),
    codes: undefined,
    labels: new Map(),
    labelTexts: [],
    numbers: 0,
    texts: 0,
  };
}
