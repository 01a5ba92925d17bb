import { formatQuantity } from '../../kernel/format-number.ts';

/** A number that always shows its sign: `"+8.2 %"`. */
export function formatSigned(value: number, unit: string): string {
  const text = formatQuantity(value, unit);
  return value > 0 && !text.startsWith('+') ? `+${text}` : text;
}
