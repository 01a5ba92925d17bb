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

const SIGNIFICANT = 3;
/** More digits than this tell no reader anything. */
const MOST_EXTRA = 3;

/** Commas between the thousands of the whole part. */
const grouped = (text: string) => (/^-?\d{4}/.test(text) ? text.replace(/\B(?<!\.\d*)(?=(\d{3})+(?!\d))/g, ',') : text);

function digits(value: number, unit: string, extra: number): string {
  if (!Number.isFinite(value)) return 'unknown';
  const text =
    unit in DECIMALS ? value.toFixed(DECIMALS[unit] + extra) : String(Number(value.toPrecision(SIGNIFICANT + extra)));
  return grouped(Number(text) === 0 ? text.replace('-', '') : text);
}

/**
 * A number with fixed decimals for its unit and never a negative zero: `formatNumber(12.345, 'kPa')` is `"12.3"`. Thousands are separated, as
 * everywhere that people read, in sentences and in tables alike: `"6,250"`. Files for programs (JSON, CSV) carry plain numbers and not these.
 */
export function formatNumber(value: number, unit: string): string {
  return digits(value, unit, 0);
}

const withUnit = (text: string, unit: string) => text + (unit in SIGNS ? SIGNS[unit] : ` ${unit}`);

/** A number with its unit: `"12.3 kPa"`, `"3.0°"`, `"0.850"` (a ratio carries no unit). */
export function formatQuantity(value: number, unit: string): string {
  return withUnit(formatNumber(value, unit), unit);
}

/** Limits in the unit of what is held against them. */
export interface Marks {
  readonly warn?: number | undefined;
  readonly fail?: number | undefined;
}

/** The same beside its limits: with as many digits more as it takes, so that 14.96 % never reads as the 15.0 % that it does not reach. */
export function formatAgainst(value: number, unit: string, { warn, fail }: Marks = {}): string {
  const size = Math.abs(value);
  const readsAs = (mark: number | undefined, extra: number) =>
    mark !== undefined && size < mark && Number(digits(size, unit, extra).replaceAll(',', '')) >= mark;
  let extra = 0;
  while (extra < MOST_EXTRA && (readsAs(warn, extra) || readsAs(fail, extra))) extra++;
  return withUnit(digits(value, unit, extra), unit);
}

/** Thousands separated by a comma, for counts and engine speeds in sentences: `groupThousands(6250)` is `"6,250"`. */
export function groupThousands(value: number): string {
  return grouped(String(Math.round(value)));
}
