import type { Corrections } from './correction-bands.ts';

const HEAD = [
  'source',
  'idle',
  'rpm_from',
  'rpm_to',
  'load_from',
  'load_to',
  'load_unit',
  'error_percent',
  'low_percent',
  'high_percent',
  'samples',
  'seconds',
  'factor',
  'limited',
  'why_none',
] as const;

/** Suggested corrections as text by RFC 4180, a line per cell; `factor` is empty where none is suggested. */
export function correctionsCsv({ axis, cells }: Corrections): string {
  const rows = cells.map((cell) => [
    cell.source,
    cell.idle,
    cell.rpm?.[0],
    cell.rpm?.[1],
    cell.load?.[0],
    cell.load?.[1],
    cell.load ? axis?.unit : undefined,
    cell.error,
    cell.low,
    cell.high,
    cell.samples,
    cell.seconds,
    cell.factor,
    cell.limited,
    cell.why,
  ]);
  return [HEAD, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}

function field(value: string | number | boolean | null | undefined): string {
  const text = String(value ?? '');
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
