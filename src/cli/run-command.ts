// One call from words to exit code: 0 fine, 1 the program's own fault, 2 wrong usage, 3 unreadable or unsuitable input.
import { parseArgs } from "node:util";
import { describeProblems } from "../engine/quantities/problem.ts";
import {
  type Command,
  InputError,
  Options,
  type OptionSpec,
  type Outcome,
  type Outside,
  RefusedError,
  UsageError,
} from "./command.ts";
import { commandHelp, programHelp } from "./help.ts";

export interface Finished {
  readonly exitCode: number;
  readonly stdout: string;
}

/** Runs the command named by the first word. Messages go through `outside.say`; the text for stdout is returned. */
export async function runCommandLine(
  words: readonly string[],
  commands: readonly Command[],
  outside: Outside,
): Promise<Finished> {
  const [first, ...rest] = words;
  if (first === undefined || first === "help" || first === "--help" || first === "-h") {
    const named = commands.find((command) => command.name === rest[0]);
    return { exitCode: 0, stdout: named === undefined ? programHelp(commands) : commandHelp(named) };
  }
  const command = commands.find((candidate) => candidate.name === first);
  if (command === undefined) {
    outside.say(`spondee: there is no command "${first}". Commands: ${commands.map(({ name }) => name).join(", ")}.`);
    return { exitCode: 2, stdout: "" };
  }
  if (rest.includes("--help") || rest.includes("-h")) return { exitCode: 0, stdout: commandHelp(command) };
  try {
    const { invocation, json } = parse(command, rest, outside);
    const outcome = await command.run(invocation);
    return { exitCode: outcome.exitCode ?? 0, stdout: render(outcome, json) };
  } catch (error) {
    return { exitCode: report(command, error, outside), stdout: "" };
  }
}

function parse(command: Command, words: readonly string[], outside: Outside) {
  const options = Object.fromEntries(
    Object.entries<OptionSpec>({ ...command.options, json: { help: "" } }).map(([name, spec]) => [
      name,
      {
        type: spec.value === undefined ? ("boolean" as const) : ("string" as const),
        multiple: spec.repeat === true || spec.takesSeveral === true,
      },
    ]),
  );
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({
      args: spreadSeveral(joinNegativeNumbers(words), command),
      options,
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    // The parser's second sentence is about words that begin with a dash, which no command here takes.
    throw new UsageError(error instanceof Error ? (error.message.split(". To specify")[0] ?? "") : String(error));
  }
  const values = parsed.values as Record<string, string | boolean | string[] | undefined>;
  const json = values["json"] === true;
  return { json, invocation: { positionals: parsed.positionals, options: new Options(values), json, outside } };
}

/** `--count -3` is a value, not an option: what it means is for the command to judge. */
function joinNegativeNumbers(words: readonly string[]): string[] {
  const joined: string[] = [];
  for (const word of words) {
    const last = joined.at(-1);
    if (/^-\d/.test(word) && last !== undefined && /^--[a-z-]+$/.test(last))
      joined[joined.length - 1] = `${last}=${word}`;
    else joined.push(word);
  }
  return joined;
}

/** `--before a b` becomes `--before=a --before=b` for the options that take several words. */
function spreadSeveral(words: readonly string[], command: Command): string[] {
  const spread: string[] = [];
  let taking: string | undefined;
  for (const word of words) {
    if (word.startsWith("--")) {
      taking = command.options[word.slice(2)]?.takesSeveral === true ? word : undefined;
      if (taking === undefined) spread.push(word);
    } else {
      spread.push(taking === undefined ? word : `${taking}=${word}`);
    }
  }
  return spread;
}

function render(outcome: Outcome, json: boolean): string {
  // A command that goes on running has printed for itself.
  if (json && outcome.json === undefined) return "";
  const text = json ? JSON.stringify(outcome.json, (_key, value: unknown) => plainArray(value), 2) : outcome.text;
  return text === "" || text.endsWith("\n") ? text : `${text}\n`;
}

function plainArray(value: unknown): unknown {
  return ArrayBuffer.isView(value) && !(value instanceof DataView) ? Array.from(value as Float64Array) : value;
}

function report(command: Command, error: unknown, outside: Outside): number {
  if (error instanceof UsageError) {
    outside.say(`spondee ${command.name}: ${error.message}. See: spondee ${command.name} --help`);
    return 2;
  }
  if (error instanceof InputError) {
    for (const line of describeProblems(error.problems)) outside.say(`spondee ${command.name}: ${line}`);
    return 3;
  }
  if (error instanceof RefusedError) {
    outside.say(`spondee ${command.name}: ${error.message}`);
    return 3;
  }
  outside.say(`spondee ${command.name}: something went wrong inside the program: ${errorText(error)}`);
  return 1;
}

function errorText(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
