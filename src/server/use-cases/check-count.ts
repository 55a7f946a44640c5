// A count as it comes in: possible at all, or refused with what is wrong.
import type { CountInput } from "../../api/index.ts";
import { type Result, succeed } from "../../engine/quantities/problem.ts";
import { type CountRow, rateOf } from "./count-rate.ts";

/**
 * The row to store. Refused: what the engine cannot read, and (rule M3) a number in the range of the other label that
 * nobody confirmed. An unlikely but possible number is stored with its warnings.
 */
export function checkedCount(
  id: string,
  runnerId: string,
  input: CountInput,
  by: "coach" | "runner",
): Result<CountRow> {
  const row: CountRow = {
    id,
    runnerId,
    way: input.way,
    contacts: input.contacts,
    seconds: input.seconds,
    feet: input.feet,
    firstContact: input.first ?? "unknown",
    lapLengthM: input.lapLengthM ?? null,
    lapTimeS: input.lapTimeS ?? null,
    speedMps: input.speedMps ?? null,
    surface: input.surface ?? "unknown",
    cue: input.cue ?? null,
    purpose: input.purpose ?? "baseline",
    measuredAt: input.measuredAt,
    note: input.note ?? "",
    confirmed: input.confirmed === true ? 1 : 0,
    enteredBy: by,
  };
  const rate = rateOf(row);
  if (!rate.ok) return rate;
  const speed = row.lapLengthM !== null && row.lapTimeS !== null ? row.lapLengthM / row.lapTimeS : null;
  if (speed !== null && (speed < 0.3 || speed > 12))
    return {
      ok: false,
      problems: [
        {
          code: "lap-speed-impossible",
          where: { field: "lapTimeS" },
          got: `${speed.toFixed(2)} m/s`,
          expected: "0.3 to 12 m/s",
          remedy: "Check the lap's length in metres and its time in seconds.",
        },
      ],
    };
  const query = rate.warnings.find((warning) => warning.code === "feet-query");
  if (query !== undefined)
    return {
      ok: false,
      problems: [
        {
          code: "feet-query",
          where: { field: "feet" },
          got: `${input.contacts} with ${input.feet === "one" ? "one foot" : "both feet"}`,
          expected: "a number in the range of its label",
          remedy: query.message,
        },
      ],
    };
  return succeed(row, rate.warnings);
}
