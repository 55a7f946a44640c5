// What was felt, on its way to the coach.
import type { Phone } from "../app/phone.ts";
import { makeId, nowInstant } from "../data/client.ts";
import type { PainEntry } from "./pain-form.tsx";

export async function sendPain(phone: Phone, entry: PainEntry, note: string): Promise<void> {
  if (entry.score === undefined) return;
  const entryId = makeId();
  const place = entry.place.trim();
  await phone.send(entryId, "pain", {
    params: { entryId },
    body: {
      score: entry.score,
      at: nowInstant(),
      ...(place === "" ? {} : { place }),
      ...(entry.signs.length === 0 ? {} : { signs: [...entry.signs] }),
      ...(note === "" ? {} : { note }),
    },
  });
  await phone.answeredWeek(/calf|achilles/i.test(place));
}

export interface AfterRun {
  readonly runId: string | undefined;
  readonly sessionId: string | undefined;
  readonly effortRating: number | undefined;
  readonly note: string;
}

export async function sendReport(phone: Phone, after: AfterRun): Promise<"kept" | "not-sent"> {
  // One report a run: saying it again replaces what was said.
  const entryId = after.runId ?? makeId();
  return phone.send(`report-${entryId}`, "report", {
    params: { entryId },
    body: {
      at: nowInstant(),
      done: true,
      ...(after.runId === undefined ? {} : { recordingId: after.runId }),
      ...(after.sessionId === undefined ? {} : { sessionId: after.sessionId }),
      ...(after.effortRating === undefined ? {} : { effortRating: after.effortRating }),
      ...(after.note === "" ? {} : { note: after.note }),
    },
  });
}
