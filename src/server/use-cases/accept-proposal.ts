// The coach accepts what was computed, or sets an aim of their own; a plan follows when there is something to change.
import type { PlanRequest as PlanRequestShape, ProposalDecision } from "../../api/index.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { makePlan } from "../../engine/plan/make-plan.ts";
import type { Result } from "../../engine/quantities/problem.ts";
import { setAim } from "../../engine/target/set-aim.ts";
import type { Proposal } from "../../engine/target/proposal.ts";
import type { GroupRow, TrackedWrite } from "../../store/index.ts";
import { Refusal, unusable } from "../app/refusal.ts";
import { type ProposalSource, propose } from "./proposal.ts";
import { planRow } from "./plan-row.ts";
import { type KnownPractice, templateOf } from "./practice.ts";
import { adviceSettings, readSettings, unitsOf } from "./settings.ts";

export interface Acceptance {
  readonly source: ProposalSource;
  readonly group: Omit<GroupRow, "role" | "runnerCount">;
  readonly decision: ProposalDecision;
  readonly today: string;
  readonly at: string;
  readonly by: { readonly id: string | null; readonly name: string };
}

/** What would be accepted. Throws a Refusal when the coach's own aim is not possible. */
function acceptable(acceptance: Acceptance): Proposal {
  const { decision, source } = acceptance;
  const proposal = propose(source, decision.painNow === undefined ? {} : { painNow: decision.painNow });
  if (decision.targetSpm === undefined || (decision.advice ?? "change") !== "change") return proposal;
  const own = setAim(
    proposal,
    { aimSpm: decision.targetSpm, by: acceptance.by.name, at: acceptance.at, reason: decision.reason ?? "" },
    adviceSettings(readSettings(source.settingsJson)),
  );
  if (!own.ok) throw unusable("This aim is not possible.", own.problems);
  return own.value;
}

/** Writes the acceptance and, where something changes, the plan. Answers the plan's problems when it could not be laid. */
export async function acceptProposal(write: TrackedWrite, acceptance: Acceptance): Promise<Result<Plan> | null> {
  const { source, decision, at, by } = acceptance;
  const proposal = acceptable(acceptance);
  const advice = decision.advice ?? proposal.advice;
  if (advice === "measure-first")
    throw new Refusal(409, "measure-first", "There is no baseline yet to accept anything on.");
  if (advice === "change" && proposal.advice !== "change")
    throw new Refusal(
      409,
      "nothing-to-change",
      `The rules say ${proposal.advice}: give an aim of your own, or measure again.`,
    );
  const runnerId = source.runner.id;
  await write.put("proposalDecision", {
    id: runnerId,
    runnerId,
    advice,
    targetSpm: advice === "change" ? proposal.aimSpm : null,
    changedByCoach: decision.advice !== undefined || decision.targetSpm !== undefined ? 1 : 0,
    reason: decision.reason ?? "",
    proposalJson: JSON.stringify(proposal),
    at,
    byAccountId: by.id,
    byName: by.name,
  });
  if (advice !== "change") {
    await write.remove("plan", runnerId);
    return null;
  }
  const plan = layPlan(acceptance, proposal, {});
  if (plan.ok) await write.put("plan", planRow(runnerId, plan.value, acceptance.today, at));
  else await write.remove("plan", runnerId);
  return plan;
}

export function layPlan(
  acceptance: Pick<Acceptance, "group" | "source" | "today">,
  proposal: Proposal,
  wish: PlanRequestShape,
  practice?: KnownPractice,
): Result<Plan> {
  const { group, source, today } = acceptance;
  const settings = readSettings(source.settingsJson);
  // null: no race, no evening, whatever the group has.
  const raceDate = wish.raceDate === undefined ? (source.runner.raceDate ?? group.raceDate) : wish.raceDate;
  const groupWeekday = wish.groupWeekday === undefined ? eveningOf(source.runner, group) : wish.groupWeekday;
  const template = wish.templateId === undefined ? undefined : templateOf(practice, wish.templateId);
  const groupTemplate = wish.groupTemplateId === undefined ? undefined : templateOf(practice, wish.groupTemplateId);
  return makePlan({
    proposal,
    startDate: wish.startsOn ?? (group.startsOn > today ? group.startsOn : today),
    groupAway: holidaysOf(group),
    away: wish.away ?? [],
    settings: adviceSettings(settings),
    units: unitsOf(settings),
    ...(groupWeekday === null ? {} : { groupWeekday }),
    ...(raceDate === null ? {} : { raceDate }),
    ...(wish.cueSchedule === undefined ? {} : { cueSchedule: wish.cueSchedule }),
    ...(template === undefined ? {} : { template }),
    ...(groupTemplate === undefined ? {} : { groupTemplate }),
    ...(wish.protocolId === undefined ? {} : { protocolId: wish.protocolId }),
    ...(wish.sessionsPerWeek === undefined ? {} : { sessionsPerWeek: wish.sessionsPerWeek }),
    ...(wish.minutesStart === undefined ? {} : { minutesStart: wish.minutesStart }),
    ...(wish.minutesEnd === undefined ? {} : { minutesEnd: wish.minutesEnd }),
    ...(wish.consolidationWeeks === undefined ? {} : { consolidationWeeks: wish.consolidationWeeks }),
  });
}

/** The group's holidays as the engine takes them. */
export function holidaysOf(group: Pick<GroupRow, "holidaysJson">): { readonly from: string; readonly to: string }[] {
  return (JSON.parse(group.holidaysJson) as string[]).map((day) => ({ from: day, to: day }));
}

/** A remote runner has no evening with the group. */
export function eveningOf(runner: { readonly remote: number }, group: Pick<GroupRow, "eveningWeekday">): number | null {
  return runner.remote === 1 ? null : group.eveningWeekday;
}
