// A count on its way to the coach.
import type { CountInput } from "../../api/index.ts";
import type { Phone } from "../app/phone.ts";
import { makeId, nowInstant } from "../data/client.ts";

export type Measured = Pick<CountInput, "way" | "contacts" | "seconds" | "feet" | "first" | "confirmed">;

export interface CountPlace {
  readonly surface: "outdoor" | "treadmill";
  readonly cue: "on" | "off";
}

export async function sendCount(phone: Phone, measured: Measured, place: CountPlace): Promise<"kept" | "not-sent"> {
  const countId = makeId();
  return phone.send(countId, "count", {
    params: { countId },
    body: {
      ...measured,
      ...place,
      // Before there is a plan a count serves the baseline; afterwards it is a look at how it goes.
      purpose: phone.state().today?.targetSpm === null ? "baseline" : "check",
      measuredAt: nowInstant(),
    },
  });
}
