/** Milliseconds are finer than any log's clock can be trusted. */
export function roundTime(seconds: number): number {
  return roundTo(seconds, 3);
}

/** Six significant digits: more than any sensor holds, few enough to read. */
export function roundMeasure(value: number): number {
  if (!Number.isFinite(value)) throw new Error('a measured value came out as no number');
  return Number(value.toPrecision(6)) + 0;
}

/** As `roundMeasure`, but null where the log cannot tell. */
export function roundOrNull(value: number | undefined): number | null {
  return value !== undefined && Number.isFinite(value) ? roundMeasure(value) : null;
}

export function roundRpm([low, high]: readonly [number, number]): [number, number] {
  return [roundTo(low, 0), roundTo(high, 0)];
}

function roundTo(value: number, decimals: number): number {
  if (!Number.isFinite(value)) throw new Error('a time or engine speed came out as no number');
  return Number(value.toFixed(decimals)) + 0;
}
