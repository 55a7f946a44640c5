// A typed count through the engine: what it says, or what is wrong with it.
import type { Selectable } from "kysely";
import type { Warning } from "../../api/index.ts";
import { countRate, type MeasuredRate } from "../../engine/baseline/count.ts";
import { stopwatchRate } from "../../engine/baseline/stopwatch.ts";
import type { Result } from "../../engine/quantities/problem.ts";
import type { Uncertain } from "../../engine/quantities/uncertain.ts";
import type { Database } from "../../store/index.ts";

export type CountRow = Selectable<Database["footCount"]>;

/** The rate of a count, by either way. Problems where it cannot be one. */
export function rateOf(
  row: Pick<CountRow, "way" | "contacts" | "seconds" | "feet" | "firstContact" | "confirmed">,
): Result<MeasuredRate> {
  const { contacts, seconds, feet } = row;
  const feetConfirmed = row.confirmed === 1;
  return row.way === "time-of-contacts"
    ? stopwatchRate({ contacts, seconds, feet, feetConfirmed })
    : countRate({ count: contacts, seconds, feet, first: row.firstContact, feetConfirmed });
}

/** Speed from a measured lap, or as the belt says. */
export function speedOfCount(row: Pick<CountRow, "speedMps" | "lapLengthM" | "lapTimeS">): number | null {
  if (row.speedMps !== null) return row.speedMps;
  return row.lapLengthM !== null && row.lapTimeS !== null ? row.lapLengthM / row.lapTimeS : null;
}

export function countAnswer(row: CountRow): {
  readonly stepRateSpm: Uncertain;
  readonly speedMps: number | null;
  readonly warnings: Warning[];
} {
  const result = rateOf(row);
  // Only counts that the engine could read are ever stored.
  if (!result.ok) throw new TypeError(`countAnswer: stored count ${row.id} cannot be read`);
  return { stepRateSpm: result.value.rate, speedMps: speedOfCount(row), warnings: [...result.warnings] };
}
