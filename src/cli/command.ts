// What a command is: its options as data (help is made from them) and a function that returns both of its outputs.
import type { Problem } from "../engine/quantities/problem.ts";

export interface OptionSpec {
  /** Placeholder in the help, e.g. "SPM"; absent for a switch. */
  readonly value?: string;
  readonly repeat?: boolean;
  /** Takes every following word up to the next option. */
  readonly takesSeveral?: boolean;
  readonly help: string;
}

/** The outside world as a command sees it, so that tests can hand in their own. */
export interface Outside {
  readFile(path: string): Promise<Uint8Array>;
  /** All of it or nothing: written beside, then renamed. */
  writeFile(path: string, chunks: Iterable<Uint8Array>): Promise<void>;
  /** People's text, on stderr. */
  say(line: string): void;
  /** Output of a command that goes on running, on stdout. */
  print(text: string): void;
  /** Resolves when the person or the machine asks the program to end. */
  untilAskedToStop(): Promise<void>;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** UTC milliseconds. */
  now(): number;
}

export interface Invocation {
  readonly positionals: readonly string[];
  readonly options: Options;
  readonly json: boolean;
  readonly outside: Outside;
}

export interface Outcome {
  /** Printed alone on stdout with --json; undefined when the command printed for itself. */
  readonly json: unknown;
  /** Printed on stdout otherwise. */
  readonly text: string;
  /** 0 when absent. */
  readonly exitCode?: number;
}

export interface Command {
  readonly name: string;
  readonly summary: string;
  /** The words after the command's name. */
  readonly usage: string;
  readonly options: Readonly<Record<string, OptionSpec>>;
  readonly notes?: string;
  run(invocation: Invocation): Promise<Outcome>;
}

/** The call's words are off: exit 2. */
export class UsageError extends Error {
  override name = "UsageError";
}

/** Unreadable or unsuitable input: exit 3. */
export class InputError extends Error {
  override name = "InputError";
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super("unsuitable input");
    this.problems = problems;
  }
}

/** Refused with a sentence for people, e.g. a port that is taken: exit 3. */
export class RefusedError extends Error {
  override name = "RefusedError";
}

/** Typed reading of the options that were given. */
export class Options {
  readonly #values: Readonly<Record<string, string | boolean | readonly string[] | undefined>>;
  constructor(values: Readonly<Record<string, string | boolean | readonly string[] | undefined>>) {
    this.#values = values;
  }
  text(name: string): string | undefined {
    const value = this.#values[name];
    return typeof value === "string" ? value : undefined;
  }
  texts(name: string): readonly string[] {
    const value = this.#values[name];
    return Array.isArray(value) ? value : [];
  }
  flag(name: string): boolean {
    return this.#values[name] === true;
  }
  number(name: string): number | undefined {
    const text = this.text(name);
    return text === undefined ? undefined : parseNumber(name, text);
  }
  numbers(name: string): readonly number[] {
    return this.texts(name).map((text) => parseNumber(name, text));
  }
  requiredNumber(name: string): number {
    const value = this.number(name);
    if (value === undefined) throw new UsageError(`--${name} is missing`);
    return value;
  }
  /** A number that must lie in a range that the trade would call possible. */
  numberIn(name: string, low: number, high: number, unit: string): number | undefined {
    const value = this.number(name);
    if (value === undefined || (value >= low && value <= high)) return value;
    throw new InputError([
      {
        code: "out-of-range",
        where: { field: `--${name}` },
        got: String(value),
        expected: `a number from ${low} to ${high} (${unit})`,
        remedy: "Check the number and its unit.",
      },
    ]);
  }
  choice<const Choice extends string>(name: string, choices: readonly Choice[]): Choice | undefined {
    const text = this.text(name);
    if (text === undefined) return undefined;
    const found = choices.find((choice) => choice === text);
    if (found === undefined) throw new UsageError(`--${name} takes ${choices.join(" or ")}, not "${text}"`);
    return found;
  }
}

function parseNumber(name: string, text: string): number {
  const value = Number(text);
  if (text.trim() === "" || !Number.isFinite(value)) throw new UsageError(`--${name} takes a number, not "${text}"`);
  return value;
}
