/** A copy of plain data in which every text went through `change`; keys, numbers and order stay. */
export function mapTexts<T>(data: T, change: (text: string) => string): T {
  if (typeof data === 'string') return change(data) as T;
  if (Array.isArray(data)) return data.map((item) => mapTexts(item, change)) as T;
  if (data !== null && typeof data === 'object') {
    return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, mapTexts(value, change)])) as T;
  }
  return data;
}
