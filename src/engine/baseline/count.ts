// Contacts counted in a set time, once or several times.
import { bothFeetSpm, type Feet } from "../quantities/feet.ts";
import { fail, succeed, type Problem, type Result, type Warning } from "../quantities/problem.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import type { Uncertain } from "../quantities/uncertain.ts";
import { countPosterior, scaleUncertain, type FirstContact } from "./count-posterior.ts";
import { poolRates } from "./pool.ts";
import { checkContactCount, checkContactRate, feetWarnings } from "./rate-check.ts";

export interface CountEntry {
  readonly count: number;
  /** Length of the counted time, 5 to 600 s. */
  readonly seconds: number;
  readonly feet: Feet;
  /** Further counts of the same length. */
  readonly again?: readonly number[];
  /** Default `unknown`: started by a tone, every contact counted. */
  readonly first?: FirstContact;
  /** The person was asked about the feet and stands by the label: do not ask again. */
  readonly feetConfirmed?: boolean;
}

export interface MeasuredRate {
  /** Both feet, spm. The error is that of the counting alone, not of the runner's own variation. */
  readonly rate: Uncertain;
  /** Entries that the others outvoted, by their order (0 is the first). */
  readonly setAside: readonly number[];
  /** True when the entries contradict each other and another is needed (rule M2). */
  readonly needsAnother: boolean;
  /** True when the label of the feet is in question (rule M3). */
  readonly feetQueried: boolean;
}

/**
 * Step rate, both feet, from contacts counted in a set time (see countPosterior), repeats pooled (see poolRates).
 * Problems: counts of 0 or less, fractions, times outside 5–600 s, rates outside 20–300 contacts a minute.
 * Warnings: `feet-query`, `rate-implausible` (rule M3), `counts-disagree` (rule M2), `count-set-aside`.
 */
export function countRate(entry: CountEntry): Result<MeasuredRate> {
  const counts = [entry.count, ...(entry.again ?? [])];
  const problems: Problem[] = [...checkSeconds(entry.seconds)];
  for (const [index, count] of counts.entries())
    problems.push(...checkContactCount(count, index === 0 ? "count" : `again ${index}`));
  if (problems.length > 0) return fail(...problems);
  const perMinute = SECONDS_PER_MINUTE / entry.seconds;
  for (const [index, count] of counts.entries())
    problems.push(...checkContactRate(count * perMinute, index === 0 ? "count" : `again ${index}`));
  if (problems.length > 0) return fail(...problems);

  const toBothFeet = bothFeetSpm({ value: 1, feet: entry.feet });
  const first = entry.first ?? "unknown";
  const pooled = poolRates(
    counts.map((count) => scaleUncertain(countPosterior(count, entry.seconds, first), toBothFeet)),
  );
  const asked = entry.feetConfirmed ? [] : feetWarnings(pooled.rate.estimate / toBothFeet, entry.feet);
  const warnings: Warning[] = [...asked];
  if (pooled.disputed)
    warnings.push({
      code: "counts-disagree",
      message: `The counts ${counts.join(" and ")} differ by more than their errors allow: count once more.`,
    });
  for (const index of pooled.setAside)
    warnings.push({
      code: "count-set-aside",
      message: `The count ${counts[index]} does not fit the others and was not used.`,
    });
  return succeed(
    {
      rate: pooled.rate,
      setAside: pooled.setAside,
      needsAnother: pooled.disputed,
      feetQueried: asked.some((warning) => warning.code === "feet-query"),
    },
    warnings,
  );
}

function checkSeconds(seconds: number): Problem[] {
  if (seconds >= 5 && seconds <= 600) return [];
  return [
    {
      code: "count-time-out-of-range",
      where: { field: "seconds" },
      got: String(seconds),
      expected: "5 to 600 seconds",
      remedy: "Count for a whole minute.",
    },
  ];
}
