// The evening on one sheet, with everyone's session for their cards.
import type { CallOutput } from "../../api/index.ts";
import { makeGroupSheet } from "../../engine/group/group-sheet.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { GroupReader, WeekReader } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { nextWeekday, today } from "./dates.ts";
import type { LaneWish } from "./evening-lanes.ts";
import { presentSession } from "./plan-row.ts";
import { json } from "./present.ts";
import { adviceSettings, readSettings } from "./settings.ts";

type Sheet = CallOutput<"GET /api/groups/:groupId/sheet">;

export async function groupSheet(deps: Deps, groupId: string, wish: LaneWish): Promise<Sheet> {
  const group = await new GroupReader(deps.store.db).row(groupId);
  if (group === undefined) throw notFound("group");
  const on = wish.on ?? nextWeekday(today(deps.clock, group.timeZone), group.eveningWeekday);
  const settings = adviceSettings(readSettings(group.settingsJson));
  const plans = new Map<string, Plan>();
  // Who is remote is on the sheet when their session falls on that day all the same: they get a card.
  const runners = (await new WeekReader(deps.store.db).runners(groupId)).map((row) => {
    const plan = row.planJson === null ? undefined : json<Plan>(row.planJson);
    if (plan !== undefined) plans.set(row.id, plan);
    return { id: row.id, name: row.name, ...(plan === undefined ? {} : { plan }) };
  });
  const toleranceShare =
    wish.tolerancePercent === undefined ? settings.laneToleranceShare : wish.tolerancePercent / 100;
  const sheet = makeGroupSheet(runners, on, {
    ...(wish.speakers === undefined ? { toleranceShare } : { speakerCount: wish.speakers }),
    settings,
  });
  return {
    on,
    worstDeviationPercent: 100 * sheet.lanes.worstDeviationShare,
    lanes: sheet.lanes.lanes.map((lane) => ({ beatSpm: lane.beatSpm, memberCount: lane.members.length })),
    rows: sheet.rows.flatMap((row) => {
      const plan = plans.get(row.id);
      const stage = plan?.stages.find((entry) => entry.sessions.some((session) => session.date === on));
      const planned = stage?.sessions.find((session) => session.date === on);
      if (plan === undefined || stage === undefined || planned === undefined) return [];
      return [
        {
          runnerId: row.id,
          name: row.name,
          stepRateSpm: row.stepRateSpm,
          baselineSpm: plan.baselineSpm,
          speedMps: plan.speedMps,
          speedExponent: plan.request.proposal.speedExponent,
          laneNumber: row.laneNumber ?? null,
          beatSpm: row.beatSpm ?? null,
          planned: presentSession(planned, stage.index),
        },
      ];
    }),
    without: sheet.without.map(({ id, name, why }) => ({ runnerId: id, name, why })),
  };
}
