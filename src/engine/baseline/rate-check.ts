// The same questions for every number that a person typed: possible at all, and under the right label?
import { contactRateLimits } from "../evidence/measuring.ts";
import { queryFeet, type Feet } from "../quantities/feet.ts";
import type { Problem, Warning } from "../quantities/problem.ts";

/** A whole number of contacts, at least 1. */
export function checkContactCount(value: number, field: string): Problem[] {
  const problem = (code: string, expected: string, remedy: string): Problem[] => [
    { code, where: { field }, got: String(value), expected, remedy },
  ];
  const expected = "a whole number of contacts, 1 or more";
  if (!Number.isFinite(value)) return problem("count-not-a-number", expected, "Type the number that was counted.");
  if (value <= 0) return problem("count-not-positive", expected, "Count again, or leave this runner out.");
  if (!Number.isInteger(value))
    return problem("count-not-whole", expected, "Type the whole number of contacts that was counted.");
  return [];
}

/** Impossible under either label: a slip of the pen. */
export function checkContactRate(contactsPerMinute: number, field: string): Problem[] {
  const { low, high } = contactRateLimits.value;
  if (contactsPerMinute >= low && contactsPerMinute <= high) return [];
  return [
    {
      code: "count-absurd",
      where: { field },
      got: `${Number(contactsPerMinute.toPrecision(4))} contacts a minute`,
      expected: `${low} to ${high} contacts a minute`,
      remedy: "Check the count and the time for a slip.",
    },
  ];
}

/** Rule M3: a value on the wrong side of its label is queried, never converted. */
export function feetWarnings(contactsPerMinute: number, feet: Feet): Warning[] {
  const query = queryFeet({ value: contactsPerMinute, feet });
  const shown = Number(contactsPerMinute.toFixed(1));
  switch (query.kind) {
    case "plausible":
      return [];
    case "other-label":
      return [
        {
          code: "feet-query",
          message: `${shown} contacts a minute is unusual for ${feetName(feet)} and usual for ${feetName(query.likely)}. Which was counted? Nothing was converted.`,
        },
      ];
    case "implausible":
      return [
        {
          code: "rate-implausible",
          message: `${shown} contacts a minute is outside ${query.low} to ${query.high}, the usual range of running for ${feetName(feet)}. Check it, or count again.`,
        },
      ];
  }
}

function feetName(feet: Feet): string {
  return feet === "one" ? "one foot" : "both feet";
}
