type Change = (text: string) => string;

/** Plain data in which every text went through `change`; keys, numbers and order stay. What holds no text that changes is not copied. */
export function mapTexts<T>(data: T, change: Change): T {
  if (typeof data === 'string') return change(data) as T;
  if (typeof data !== 'object' || data === null) return data;
  return (Array.isArray(data) ? mapItems(data, change) : mapFields(data, change)) as T;
}

function mapItems(items: readonly unknown[], change: Change): readonly unknown[] {
  let copy: unknown[] | undefined;
  for (let i = 0; i < items.length; i++) {
    const item = mapTexts(items[i], change);
    if (!Object.is(item, items[i])) {
      copy ??= [...items];
      copy[i] = item;
    }
  }
  return copy ?? items;
}

function mapFields<T extends object>(fields: T, change: Change): T {
  let copy: T | undefined;
  for (const key in fields) {
    const value = mapTexts(fields[key], change);
    if (!Object.is(value, fields[key])) {
      copy ??= { ...fields };
      copy[key] = value;
    }
  }
  return copy ?? fields;
}
