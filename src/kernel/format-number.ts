/** Decimals that a reader can use, by unit; anything else gets three significant digits. */
const DECIMALS: Record<string, number> = {
  kPa: 1,
  '%': 1,
  deg: 1,
  degC: 0,
  rpm: 0,
  ms: 2,
  s: 2,
  ratio: 3,
  Hz: 1,
  'g/s': 1,
  'cc/min': 0,
  V: 1,
  'km/h': 0,
  count: 0,
  'N m': 0,
};

const SIGNS: Record<string, string> = { '%': ' %', deg: '°', degC: ' °C', ratio: '', count: '' };

/** A number with fixed decimals for its unit and never a negative zero: `formatNumber(12.345, 'kPa')` is `"12.3"`. */
export function formatNumber(value: number, unit: string): string {
  if (!Number.isFinite(value)) return 'unknown';
  const text = unit in DECIMALS ? value.toFixed(DECIMALS[unit]) : String(Number(value.toPrecision(3)));
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** A number with its unit: `"12.3 kPa"`, `"3.0°"`, `"0.850"` (a ratio carries no unit). */
export function formatQuantity(value: number, unit: string): string {
  return formatNumber(value, unit) + (unit in SIGNS ? SIGNS[unit] : ` ${unit}`);
}

/** Thousands separated by a comma, for counts and engine speeds in sentences: `groupThousands(6250)` is `"6,250"`. */
export function groupThousands(value: number): string {
  return String(Math.round(value)).replace(/\B(?=(\d{3})+$)/g, ',');
}
