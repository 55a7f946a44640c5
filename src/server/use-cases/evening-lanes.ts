// Lanes for an evening: everyone's target of that day, in as few beats as will do.
import type { Lanes } from "../../api/index.ts";
import { makeLanes, type Unplaced } from "../../engine/group/lanes.ts";
import type { LaneRunner } from "../../engine/group/lane-beats.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { GroupReader, WeekReader } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { nextWeekday, today } from "./dates.ts";
import { stageOn } from "./plan-row.ts";
import { json } from "./present.ts";
import { recentPain } from "./recent-pain.ts";
import { adviceSettings, readSettings } from "./settings.ts";

export interface LaneWish {
  readonly tolerancePercent?: number;
  readonly speakers?: number;
  readonly on?: string;
  readonly presentOnly?: boolean;
  /** Lanes whose members can run together; not together with speakers. */
  readonly speedBandMps?: number;
}

/** A beat is not played to someone whose latest word about pain meets D1, decided or not. */
async function whoMustNotRun(
  deps: Deps,
  runners: readonly { readonly id: string }[],
  painReferLimit: number,
): Promise<ReadonlySet<string>> {
  const ids = runners.map(({ id }) => id);
  const said = await recentPain(deps.store.db, ids, deps.clock);
  return new Set(
    ids.filter((id) => {
      const latest = said.get(id)?.at(-1);
      return latest !== undefined && (latest.score > painReferLimit || json<string[]>(latest.signsJson).length > 0);
    }),
  );
}

export async function eveningLanes(deps: Deps, groupId: string, wish: LaneWish): Promise<Lanes> {
  const { db } = deps.store;
  const group = await new GroupReader(db).row(groupId);
  if (group === undefined) throw notFound("group");
  const on = wish.on ?? nextWeekday(today(deps.clock, group.timeZone), group.eveningWeekday);
  const settings = adviceSettings(readSettings(group.settingsJson));
  const toleranceShare =
    wish.tolerancePercent === undefined ? settings.laneToleranceShare : wish.tolerancePercent / 100;
  const reader = new WeekReader(db);
  const marks = new Map((await reader.attendance(groupId, on)).map((row) => [row.runnerId, row.presence]));
  const names = new Map<string, string>();
  const members: LaneRunner[] = [];
  const without: { runnerId: string; name: string; because: string }[] = [];
  const runners = await reader.runners(groupId);
  const hurting = await whoMustNotRun(deps, runners, settings.painReferLimit);
  for (const runner of runners) {
    const present = marks.get(runner.id) === "present";
    if (runner.remote === 1 && !present) continue;
    if (marks.get(runner.id) === "absent" || (wish.presentOnly === true && !present)) continue;
    names.set(runner.id, runner.name);
    const plan = runner.planJson === null ? null : json<Plan>(runner.planJson);
    const stage = plan === null || plan.status === "stopped" ? undefined : stageOn(plan, on);
    if (plan === null || stage === undefined) {
      const because = plan === null ? reasonWithout(runner.advice) : "stopped and referred: no beat";
      without.push({ runnerId: runner.id, name: runner.name, because });
      continue;
    }
    if (hurting.has(runner.id)) {
      without.push({
        runnerId: runner.id,
        name: runner.name,
        because: "pain that calls for stop and refer (D1): no beat",
      });
      continue;
    }
    const speed = plan.speedMps === null ? {} : { speedMps: plan.speedMps };
    // A runner who was eased below the first rung may run under their cap as well.
    members.push({
      id: runner.id,
      targetSpm: stage.stepRateSpm,
      capSpm: Math.max(plan.capSpm, stage.stepRateSpm),
      ...speed,
    });
  }
  const made = makeLanes(members, {
    ...(wish.speakers === undefined ? { toleranceShare } : { speakerCount: wish.speakers }),
    ...(wish.speakers === undefined && wish.speedBandMps !== undefined ? { speedBandMps: wish.speedBandMps } : {}),
    inTenths: true,
    settings,
  });
  for (const { id, reason } of made.unplaced)
    without.push({ runnerId: id, name: names.get(id) ?? "", because: unplacedWords[reason] });
  return {
    on,
    tolerancePercent: 100 * toleranceShare,
    speakers: wish.speakers ?? null,
    worstDeviationPercent: 100 * made.worstDeviationShare,
    lanes: made.lanes.map((lane) => ({
      beatSpm: lane.beatSpm,
      speedMps: lane.speedMps === undefined ? null : { ...lane.speedMps },
      members: lane.members.map((member) => ({
        runnerId: member.id,
        name: names.get(member.id) ?? "",
        targetSpm: member.targetSpm,
        deviationPercent: 100 * member.deviationShare,
      })),
    })),
    without,
    warnings: made.provenFewest ? [] : ["The search was cut short; fewer lanes may do."],
  };
}

const unplacedWords: Readonly<Record<Unplaced["reason"], string>> = {
  "cap-below-tolerance": "no beat within the tolerance is below the cap",
  "speed-unknown": "no speed is known: count with a lap time, or make lanes without speeds",
};

function reasonWithout(advice: string | null): string {
  if (advice === "leave-alone") return "left alone: runs without a beat";
  if (advice === "refer") return "referred: no beat";
  return "no accepted proposal yet";
}
