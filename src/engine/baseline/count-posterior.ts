// What a count says about the rate. Contacts come evenly, the clock does not know where they fall.
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import type { Uncertain } from "../quantities/uncertain.ts";

/**
 * What was said on the first contact.
 * `zero`, `one`: the clock was started on a contact, and that contact was called so.
 * `unknown`: the clock started by itself (a tone), and every contact until the end was counted.
 */
export type FirstContact = "zero" | "one" | "unknown";

/**
 * Posterior of the rate (contacts per minute, flat prior) from `count` contacts in `seconds`.
 *
 * With x = rate · T in contacts and the clock started at an unknown phase, P(count | x) = 1 − |x − count|: the posterior
 * is a triangle on (count − 1, count + 1) and its sd is 1/√6 contact. With the clock started on a contact the count
 * is floor(x) when that contact is called zero and floor(x) + 1 when it is called one: uniform on one contact,
 * sd 1/√12. Closed form; the interval holds exactly 95 %, cut equally at both ends.
 */
export function countPosterior(count: number, seconds: number, first: FirstContact): Uncertain {
  const perMinute = SECONDS_PER_MINUTE / seconds;
  const centre = { unknown: count, zero: count + 0.5, one: count - 0.5 }[first];
  const standardError = first === "unknown" ? 1 / Math.sqrt(6) : 1 / Math.sqrt(12);
  // Triangle: P(x < low) = (1 − h)² / 2 = 0.025 at half-width h. Uniform: 95 % of the half-width 0.5.
  const halfWidth = first === "unknown" ? 1 - Math.sqrt(0.05) : 0.475;
  return {
    estimate: centre * perMinute,
    standardError: standardError * perMinute,
    interval95: { low: (centre - halfWidth) * perMinute, high: (centre + halfWidth) * perMinute },
    sampleCount: 1,
    method: first === "unknown" ? "contacts in a set time" : `contacts in a set time, first contact called ${first}`,
  };
}

/** The same uncertain number in another unit: every part times `factor` (positive). */
export function scaleUncertain(value: Uncertain, factor: number): Uncertain {
  return {
    ...value,
    estimate: value.estimate * factor,
    standardError: value.standardError * factor,
    interval95: { low: value.interval95.low * factor, high: value.interval95.high * factor },
  };
}
