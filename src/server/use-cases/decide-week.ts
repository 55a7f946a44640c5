// The coach confirms or overrules, one or many; each runner's plan moves with the decision in the same transaction.
import type { Decision as DecisionShape, DecisionKind } from "../../api/index.ts";
import { adaptPlan, rungOn } from "../../engine/plan/adapt-plan.ts";
import { addDays } from "../../engine/plan/calendar.ts";
import type { Decision } from "../../engine/plan/decision.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { outlineOf } from "../../engine/plan/plan-outline.ts";
import { overrideDecision } from "../../engine/plan/override.ts";
import type { MemberOf } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { Refusal } from "../app/refusal.ts";
import { planRow } from "./plan-row.ts";
import { json, presentDecision } from "./present.ts";
import type { GroupWeek, RunnerWeek } from "./runner-week.ts";
import { readWeek } from "./week.ts";
import { writeChange } from "./write-change.ts";

export interface DecisionWish {
  readonly id: string;
  readonly runnerId: string;
  readonly decision: DecisionKind;
  readonly reason?: string;
}

interface Ready {
  readonly wish: DecisionWish;
  readonly entry: RunnerWeek;
  readonly decision: Decision;
}

export async function decideWeek(deps: Deps, caller: MemberOf, weekStartsOn: string, wishes: readonly DecisionWish[]) {
  const week = await readWeek(deps, caller.groupId, weekStartsOn);
  const refused: { runnerId: string; because: string }[] = [];
  const decided: DecisionShape[] = [];
  const ready: Ready[] = [];
  if (week.startsOn !== weekStartsOn)
    throw new Refusal(409, "not-a-week", `The programme's week that holds ${weekStartsOn} begins on ${week.startsOn}.`);
  for (const wish of wishes) {
    const entry = week.runners.find((candidate) => candidate.runner.id === wish.runnerId);
    const outcome = entry === undefined ? "not in this group" : prepare(deps, caller, week, entry, wish);
    if (typeof outcome === "string") refused.push({ runnerId: wish.runnerId, because: outcome });
    else if (outcome === null) {
      if (entry?.decided !== undefined) decided.push(presentDecision(entry.decided));
    } else ready.push(outcome);
  }
  const at = instant(deps.clock);
  const { value, changeId } = await writeChange(deps, caller, "decisions confirmed", async (write) => {
    const made: DecisionShape[] = [];
    for (const { wish, entry, decision } of ready) {
      const { plan, runner } = entry;
      if (plan === null) continue;
      const now = await write.trx.selectFrom("plan").select("planJson").where("id", "=", runner.id).executeTakeFirst();
      const whole = now === undefined ? null : json<Plan>(now.planJson);
      // The decision was made on the outline: while that is the same, it holds for the plan as it is now.
      if (whole === null || JSON.stringify(outlineOf(whole)) !== JSON.stringify(plan))
        throw new Refusal(409, "changed-since", `The plan of ${runner.name} has just been changed. Look again.`);
      const row = {
        id: `${runner.id}/${weekStartsOn}`,
        clientId: wish.id,
        groupId: caller.groupId,
        runnerId: runner.id,
        weekStartsOn,
        decision: decision.action,
        proposed: decision.proposedAction,
        rule: decision.rule,
        overruled: decision.override === undefined ? 0 : 1,
        reason: wish.reason ?? "",
        at,
        byAccountId: caller.account.id,
        byName: caller.account.displayName,
      };
      const lastDay = addDays(weekStartsOn, 6);
      const on = week.today < lastDay ? (week.today < weekStartsOn ? weekStartsOn : week.today) : lastDay;
      const adapted = adaptPlan(whole, decision, { on, sessionsMissed: missed(entry) });
      await write.put("decision", row);
      await write.put("plan", planRow(runner.id, adapted, week.today, at));
      made.push(presentDecision(row));
    }
    return made;
  });
  return { decided: [...decided, ...value], refused, changeId };
}

/** Ready to write; null when it is decided like this already; a sentence when it is refused. */
function prepare(
  deps: Deps,
  caller: MemberOf,
  week: GroupWeek,
  entry: RunnerWeek,
  wish: DecisionWish,
): Ready | string | null {
  const { plan, proposed, decided } = entry;
  const same = decided !== undefined && decided.decision === wish.decision && decided.reason === (wish.reason ?? "");
  if (decided !== undefined && (decided.clientId === wish.id || same)) return null;
  if (plan === null) return "there is no plan to decide about";
  if (plan.status === "stopped") return "the plan is stopped; accept a proposal anew when the runner may go on";
  if (proposed === null) return "the plan has not begun yet";
  if (wish.decision === proposed.proposedAction) return { wish, entry, decision: proposed };
  const overruled = overrideDecision(
    proposed,
    { by: caller.account.displayName, at: instant(deps.clock), action: wish.decision, reason: wish.reason ?? "" },
    { plan, rung: rungOn(plan, addDays(week.startsOn, 6)) },
  );
  if (overruled.ok) return { wish, entry, decision: overruled.value };
  return overruled.problems.map((problem) => problem.remedy).join(" ");
}

function missed(entry: RunnerWeek): number {
  const evidence = entry.evidence;
  return evidence === null ? 0 : Math.max(0, evidence.sessionsPlanned - evidence.sessionsDone);
}
