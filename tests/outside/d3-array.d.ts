/** The one function used as a reference; the package ships no types. */
declare module 'd3-array' {
  export function quantile(values: Iterable<number>, p: number): number;
}
