// The week in plain words for everyone who has a plan, ready to copy or to send.
import type { Messages } from "../../api/index.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { runnerMessage, sayDate } from "../../engine/plan/runner-message.ts";
import { GroupReader, HandOutReader, WeekReader } from "../../store/index.ts";
import type { MemberOf } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { plusDays, today, weekOf } from "./dates.ts";
import { json } from "./present.ts";
import { readSettings, unitsOf } from "./settings.ts";

export async function groupMessages(
  deps: Deps,
  caller: MemberOf,
  wish: { readonly weekOn?: string; readonly runnerId?: string },
): Promise<Messages> {
  const group = await new GroupReader(deps.store.db).row(caller.groupId);
  if (group === undefined) throw notFound("group");
  const weekOn = weekOf(wish.weekOn ?? today(deps.clock, group.timeZone), group.startsOn).startsOn;
  const units = unitsOf(readSettings(group.settingsJson));
  const addresses =
    caller.role === "coach"
      ? await new HandOutReader(deps.store.db).addresses(caller.groupId)
      : new Map<string, string>();
  const runners = await new WeekReader(deps.store.db).runners(caller.groupId);
  return {
    weekOn,
    items: runners.flatMap((runner) => {
      if (runner.planJson === null || (wish.runnerId !== undefined && wish.runnerId !== runner.id)) return [];
      const plan = json<Plan>(runner.planJson);
      const decision = plan.decisions.findLast(({ on }) => on >= plusDays(weekOn, -7) && on < weekOn)?.decision;
      return [
        {
          runnerId: runner.id,
          name: runner.name,
          address: addresses.get(runner.id) ?? null,
          subject: `Your running week from ${sayDate(weekOn)}`,
          text: runnerMessage(plan, {
            runner: runner.name,
            coach: caller.account.displayName,
            weekOn,
            units,
            ...(decision === undefined ? {} : { decision }),
          }),
        },
      ];
    }),
  };
}
