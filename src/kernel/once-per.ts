/** Wraps `compute` so that it runs once per key object, however many ask; the result lives as long as the key. */
export function oncePer<K extends object, T>(compute: (key: K) => T): (key: K) => T {
  const results = new WeakMap<K, { readonly value: T }>();
  return (key) => {
    const known = results.get(key);
    if (known) return known.value;
    const value = compute(key);
    results.set(key, { value });
    return value;
  };
}
