// Results of the engine as a command takes them: the value, or exit 3 with what was wrong.
import type { Result } from "../engine/quantities/problem.ts";
import { InputError } from "./command.ts";

/** The value of a result; problems end the command. `file` is filled in where a problem names none. */
export function expectOk<Value>(result: Result<Value>, file?: string): Value {
  if (result.ok) return result.value;
  throw new InputError(
    file === undefined
      ? result.problems
      : result.problems.map((problem) => ({ ...problem, where: { file, ...problem.where } })),
  );
}
