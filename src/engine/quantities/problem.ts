// Bad input from the world: told, not thrown. What was wrong, where, and what to do.

export interface ProblemPlace {
  readonly file?: string;
  /** 1-based line of a text file. */
  readonly line?: number;
  /** 1-based data row of a table (the header is not counted). */
  readonly row?: number;
  readonly column?: string;
  readonly field?: string;
}

export interface Problem {
  /** Stable, kebab-case, tested. People read the sentence, programs read this. */
  readonly code: string;
  readonly where: ProblemPlace;
  readonly got: string;
  readonly expected: string;
  /** What the person can do about it. */
  readonly remedy: string;
}

/** Something that was understood, but that the reader should know. Never fatal. */
export interface Warning {
  /** Stable, kebab-case, tested. */
  readonly code: string;
  readonly message: string;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly Warning[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export function succeed<T>(value: T, warnings: readonly Warning[] = []): Result<T> {
  return { ok: true, value, warnings };
}

export function fail<T>(...problems: readonly Problem[]): Result<T> {
  return { ok: false, problems };
}

/** One clear line: file, place, what was wrong and the remedy. */
export function describeProblem(problem: Problem): string {
  const { file, line, row, column, field } = problem.where;
  const place = [
    file,
    line === undefined ? undefined : `line ${line}`,
    row === undefined ? undefined : `row ${row}`,
    column === undefined ? undefined : `column "${column}"`,
    field === undefined ? undefined : `field "${field}"`,
  ].filter((part) => part !== undefined);
  return `${place.join(", ")}${place.length > 0 ? ": " : ""}expected ${problem.expected}, got ${problem.got}. ${problem.remedy}`;
}

/** Alike: the same thing wrong at another line or row of the same file. */
function kindOf({ code, where }: Problem): string {
  return JSON.stringify([code, where.file, where.column, where.field]);
}

const ALIKE_TOLD = 3;

/** The sentences for several problems, in order; of many that are alike the first three, and how many were left out. */
export function describeProblems(problems: readonly Problem[]): readonly string[] {
  const kinds = new Map<string, Problem[]>();
  for (const problem of problems) kinds.set(kindOf(problem), [...(kinds.get(kindOf(problem)) ?? []), problem]);
  return [...kinds.values()].flatMap((alike) => {
    const told = alike.length <= ALIKE_TOLD + 1 ? alike : alike.slice(0, ALIKE_TOLD);
    const left = alike.length - told.length;
    const { file } = alike[0]!.where;
    const more = `${file === undefined ? "" : `${file}: `}and at least ${left} more like these.`;
    return [...told.map(describeProblem), ...(left > 0 ? [more] : [])];
  });
}
