// From the fields of the plan's form to what the server is asked for.
import type { PlanRequest } from "../../api/index.ts";
import { fadeTailShares } from "../../engine/evidence/plans.ts";

export type CueChoice = "usual" | "early" | "full" | "half";

/** Absent: the plan's usual fading, or the study's own. */
export function cueScheduleOf(choice: CueChoice): PlanRequest["cueSchedule"] {
  switch (choice) {
    case "usual":
      return undefined;
    case "early":
      return { kind: "faded", fullShare: 0, tailShares: [1, ...fadeTailShares.value] };
    case "full":
      return { kind: "constant", share: 1 };
    case "half":
      return { kind: "constant", share: 0.5 };
  }
}

export interface PlanForm {
  readonly protocolId: string;
  readonly startsOn: string;
  readonly perWeek: string;
  readonly groupWeekday: string;
  readonly raceDate: string;
  readonly away: readonly { readonly from: string; readonly to: string }[];
  readonly minutesStart: string;
  readonly minutesEnd: string;
  readonly consolidationWeeks: string;
  readonly cue: CueChoice;
  readonly templateId: string;
  readonly groupTemplateId: string;
}

/** A study keeps its own minutes, length and fading; what the coach leaves empty keeps its default. */
export function requestOf(form: PlanForm): PlanRequest {
  const study = form.protocolId !== "";
  const cueSchedule = study ? undefined : cueScheduleOf(form.cue);
  return {
    startsOn: form.startsOn,
    sessionsPerWeek: Number(form.perWeek),
    groupWeekday: form.groupWeekday === "" ? null : Number(form.groupWeekday),
    raceDate: form.raceDate === "" ? null : form.raceDate,
    away: form.away.filter(({ from, to }) => from !== "" && to !== "").map((range) => ({ ...range })),
    ...(study ? { protocolId: form.protocolId } : {}),
    ...(study || form.minutesStart === "" ? {} : { minutesStart: Number(form.minutesStart) }),
    ...(study || form.minutesEnd === "" ? {} : { minutesEnd: Number(form.minutesEnd) }),
    ...(study || form.consolidationWeeks === "" ? {} : { consolidationWeeks: Number(form.consolidationWeeks) }),
    ...(cueSchedule === undefined ? {} : { cueSchedule }),
    ...(form.templateId === "" ? {} : { templateId: form.templateId }),
    ...(form.groupTemplateId === "" ? {} : { groupTemplateId: form.groupTemplateId }),
  };
}
