/** The part used as a reference; the package ships no types. */
declare module 'commonmark' {
  export interface Node {
    readonly type: string;
    readonly literal: string | null;
    readonly level: number;
    walker(): { next(): { entering: boolean; node: Node } | null };
  }
  export class Parser {
    parse(text: string): Node;
  }
}
