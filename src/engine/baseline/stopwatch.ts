// The time of a set number of contacts, by stopwatch: for the same effort far better than contacts in a set time.
import { stopwatchTimingErrorS } from "../evidence/measuring.ts";
import { bothFeetSpm, type Feet } from "../quantities/feet.ts";
import { fail, succeed, type Problem, type Result } from "../quantities/problem.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import type { MeasuredRate } from "./count.ts";
import { checkContactCount, checkContactRate, feetWarnings } from "./rate-check.ts";

export interface StopwatchEntry {
  /** Started on a contact called zero, stopped on this one. */
  readonly contacts: number;
  readonly seconds: number;
  readonly feet: Feet;
  /** Error of start and stop together; default 0.2 s. */
  readonly timingErrorS?: number;
  readonly feetConfirmed?: boolean;
}

/**
 * Step rate, both feet: 60 · contacts / seconds, twice that for one foot. Its error is rate · timing error / seconds
 * (first order; contacts are exact). Problems and warnings as in countRate.
 */
export function stopwatchRate(entry: StopwatchEntry): Result<MeasuredRate> {
  const problems: Problem[] = checkContactCount(entry.contacts, "contacts");
  if (!(entry.seconds > 0 && entry.seconds <= 3600))
    problems.push({
      code: "stopwatch-time-out-of-range",
      where: { field: "seconds" },
      got: String(entry.seconds),
      expected: "a time above 0 and up to 3600 seconds",
      remedy: "Type the stopwatch's time in seconds.",
    });
  if (problems.length > 0) return fail(...problems);
  const contactsPerMinute = (SECONDS_PER_MINUTE * entry.contacts) / entry.seconds;
  const absurd = checkContactRate(contactsPerMinute, "contacts");
  if (absurd.length > 0) return fail(...absurd);

  const estimate = bothFeetSpm({ value: contactsPerMinute, feet: entry.feet });
  const standardError = (estimate * (entry.timingErrorS ?? stopwatchTimingErrorS.value)) / entry.seconds;
  const warnings = entry.feetConfirmed ? [] : feetWarnings(contactsPerMinute, entry.feet);
  return succeed(
    {
      rate: {
        estimate,
        standardError,
        interval95: { low: estimate - 1.96 * standardError, high: estimate + 1.96 * standardError },
        sampleCount: 1,
        method: `time of ${entry.contacts} contacts by stopwatch`,
      },
      setAside: [],
      needsAnother: false,
      feetQueried: warnings.some((warning) => warning.code === "feet-query"),
    },
    warnings,
  );
}
