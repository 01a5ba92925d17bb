/** The one function used as a reference; the package ships no types. */
declare module 'd3-array' {
  export function ticks(start: number, stop: number, count: number): number[];
}
