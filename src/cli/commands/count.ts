// spondee count: a step rate from contacts that somebody counted.
import { countRate, type MeasuredRate } from "../../engine/baseline/count.ts";
import { stopwatchRate } from "../../engine/baseline/stopwatch.ts";
import type { Result } from "../../engine/quantities/problem.ts";
import { type Command, InputError, type Options, UsageError } from "../command.ts";
import { rounded, warningLines } from "../text.ts";

export const countCommand: Command = {
  name: "count",
  summary: "a step rate with its error, from contacts counted in a set time or timed by stopwatch",
  usage: "(--count N --seconds S | --contacts N --stopwatch S) --feet one|both",
  options: {
    count: { value: "N", help: "contacts counted in the set time" },
    seconds: { value: "S", help: "the set time in seconds" },
    again: { value: "N", repeat: true, help: "a further count over the same time" },
    first: { value: "zero|one", help: "what the counter said on the first contact; left out: every contact counted" },
    contacts: { value: "N", help: "contacts that the stopwatch ran over, started on a contact called zero" },
    stopwatch: { value: "S", help: "the stopwatch's time in seconds" },
    feet: { value: "one|both", help: "which feet were counted" },
  },
  notes: "A count of one foot for a minute is good to about 0.8 spm, for 15 seconds to about 3.3 spm.",
  async run({ options }) {
    const feet = options.choice("feet", ["one", "both"]);
    if (feet === undefined)
      throw new UsageError("--feet one or --feet both is needed: the numbers look alike and differ by two");
    const result = measure(options, feet);
    if (!result.ok) throw new InputError(result.problems);
    const { rate } = result.value;
    const json = {
      stepRateSpm: rate.estimate,
      standardErrorSpm: rate.standardError,
      low95: rate.interval95.low,
      high95: rate.interval95.high,
      warnings: result.warnings,
    };
    const text = [
      `${rounded(rate.estimate, 1)} steps per minute, both feet (standard error ${rounded(rate.standardError, 1)}; 95 % sure of ${rounded(rate.interval95.low, 1)} to ${rounded(rate.interval95.high, 1)})`,
      ...warningLines(result.warnings),
    ].join("\n");
    return { json, text };
  },
};

function measure(options: Options, feet: "one" | "both"): Result<MeasuredRate> {
  const timed = options.text("contacts") !== undefined || options.text("stopwatch") !== undefined;
  const counted = options.text("count") !== undefined || options.text("seconds") !== undefined;
  if (timed === counted) throw new UsageError("give either --count with --seconds, or --contacts with --stopwatch");
  if (timed) {
    return stopwatchRate({
      contacts: options.requiredNumber("contacts"),
      seconds: options.requiredNumber("stopwatch"),
      feet,
    });
  }
  const first = options.choice("first", ["zero", "one"]);
  return countRate({
    count: options.requiredNumber("count"),
    seconds: options.requiredNumber("seconds"),
    feet,
    again: options.numbers("again"),
    ...(first === undefined ? {} : { first }),
  });
}
