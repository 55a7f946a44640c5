import type { Selectable } from "kysely";
import type { Static } from "typebox";
import type { FormNoteInput, PainInput, ReportInput, VideoMeasureInput } from "../../api/schemas/observations.ts";
import type { Database } from "../../store/index.ts";

type By = "coach" | "runner";

export function painRow(
  id: string,
  runnerId: string,
  input: Static<typeof PainInput>,
  enteredBy: By,
): Selectable<Database["pain"]> {
  const { score, at } = input;
  const signsJson = JSON.stringify([...new Set(input.signs ?? [])].sort());
  return { id, runnerId, score, place: input.place ?? "", signsJson, at, note: input.note ?? "", enteredBy };
}

export function formNoteRow(
  id: string,
  runnerId: string,
  input: Static<typeof FormNoteInput>,
): Selectable<Database["formNote"]> {
  const signsJson = JSON.stringify([...new Set(input.signs)].sort());
  return { id, runnerId, at: input.at, whenInRun: input.when, signsJson, note: input.note ?? "" };
}

export function videoRow(
  id: string,
  runnerId: string,
  input: Static<typeof VideoMeasureInput>,
): Selectable<Database["videoMeasure"]> {
  const { at, phase, frameRateHz } = input;
  return {
    id,
    runnerId,
    at,
    phase,
    frameRateHz,
    contactFramesJson: JSON.stringify(input.contactFrames),
    toeOffFramesJson: JSON.stringify(input.toeOffFrames),
    speedMps: input.speedMps ?? null,
    shankAngleRad: input.shankAngleRad ?? null,
    footAheadOfHipM: input.footAheadOfHipM ?? null,
    note: input.note ?? "",
  };
}

export function reportRow(
  id: string,
  runnerId: string,
  input: Static<typeof ReportInput>,
): Selectable<Database["report"]> {
  return {
    id,
    runnerId,
    at: input.at,
    sessionId: input.sessionId ?? null,
    recordingId: input.recordingId ?? null,
    effortRating: input.effortRating ?? null,
    done: input.done === false ? 0 : 1,
    note: input.note ?? "",
  };
}
