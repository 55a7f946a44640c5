// The few parts of papaparse that the readers use. Its public types pull in Node's, which would open the engine's fence.
declare module "papaparse/papaparse.js" {
  interface ParseError {
    readonly code: string;
    readonly message: string;
    readonly row?: number;
  }
  interface ParseResult {
    readonly data: string[][];
    readonly errors: readonly ParseError[];
  }
  interface ParseOptions {
    readonly delimiter?: string;
    readonly skipEmptyLines?: boolean | "greedy";
    readonly comments?: string | false;
    /** Stop after so many rows. */
    readonly preview?: number;
  }
  const papaparse: { parse(text: string, options: ParseOptions): ParseResult };
  export default papaparse;
}
