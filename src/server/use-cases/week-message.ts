// The week in plain words for one runner, ready to paste or to send.
import type { DisplayUnits } from "../../engine/quantities/display.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { runnerMessage } from "../../engine/plan/runner-message.ts";
import { GroupReader, RunnerReader } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal } from "../app/refusal.ts";
import { plusDays, today, weekOf } from "./dates.ts";
import { json } from "./present.ts";
import { readSettings } from "./settings.ts";

export interface MessageWish {
  readonly runnerId: string;
  readonly groupId: string;
  readonly coach: string;
  /** A day of the week to tell; the coming one from the group's evening on when absent. */
  readonly on: string | undefined;
}

export async function weekMessage(deps: Deps, wish: MessageWish) {
  const reader = new RunnerReader(deps.store.db);
  const runner = await reader.one(wish.runnerId);
  const group = await new GroupReader(deps.store.db).row(wish.groupId);
  if (runner === undefined || group === undefined) throw notFound("runner");
  const row = await reader.plan(runner.id);
  if (row === undefined) throw new Refusal(409, "no-plan", "There is no plan to tell about yet.");
  const weekOn = weekOf(wish.on ?? today(deps.clock, group.timeZone), group.startsOn).startsOn;
  const settings = readSettings(group.settingsJson);
  const units: DisplayUnits = {
    feet: settings.feetShown,
    speed: settings.distanceUnit === "mile" ? "min-per-mile" : "min-per-km",
  };
  return {
    weekStartsOn: weekOn,
    subject: `Your week from ${weekOn} to ${plusDays(weekOn, 6)}`,
    text: runnerMessage(json<Plan>(row.planJson), { runner: runner.name, coach: wish.coach, weekOn, units }),
  };
}
