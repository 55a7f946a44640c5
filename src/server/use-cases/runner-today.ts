// What the phone page needs: today, and two weeks ahead for days without a signal.
import type { RunnerToday } from "../../api/index.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { standardCautions } from "../../engine/target/cautions.ts";
import { paceTable } from "../../engine/target/speed-curve.ts";
import { AccountReader, GroupReader, RunnerReader } from "../../store/index.ts";
import type { RunnerSide } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { plusDays, startOfDay, today, weekOf } from "./dates.ts";
import { presentPlan, stageOn } from "./plan-row.ts";
import { json } from "./present.ts";
import { runnerState } from "./runner-state.ts";
import { readSettings } from "./settings.ts";
import { asksCalfAchilles } from "./week-evidence.ts";

const DAYS_AHEAD = 14;

export async function runnerToday(deps: Deps, caller: RunnerSide): Promise<RunnerToday> {
  const { db } = deps.store;
  const reader = new RunnerReader(db);
  const runner = await reader.one(caller.runnerId);
  const group = await new GroupReader(db).row(caller.groupId);
  if (runner === undefined || group === undefined) throw notFound("runner");
  const day = today(deps.clock, group.timeZone);
  const planRow = await reader.plan(runner.id);
  const plan = planRow === undefined ? null : json<Plan>(planRow.planJson);
  const running = plan !== null && plan.status === "running" ? plan : null;
  const stage = running === null ? undefined : stageOn(running, day);
  const state = await runnerState(deps, runner.id);
  const consent = await reader.latestConsent(runner.id);
  const shown = running === null ? [] : presentPlan(running, day).sessions;
  const ahead = shown.filter((entry) => entry.on >= day && entry.on <= plusDays(day, DAYS_AHEAD));
  const weekStartsOn = weekOf(day, group.startsOn).startsOn;
  const pain = await reader.painSince([runner.id], startOfDay(weekStartsOn, group.timeZone));
  const members = await new AccountReader(db).members(group.id);
  const exponent = running?.request.proposal.speedExponent;
  return {
    runnerId: runner.id,
    name: runner.name,
    groupName: group.name,
    coachNames: members.filter((member) => member.role === "coach").map((member) => member.displayName),
    today: day,
    serverTime: instant(deps.clock),
    week: {
      startsOn: weekStartsOn,
      painAnswered: pain.length > 0,
      askCalfAchilles: running?.request.proposal.careful ?? false,
      calfAchillesAnswered: pain.some(asksCalfAchilles),
    },
    consent:
      consent === undefined
        ? null
        : {
            given: consent.given === 1,
            textVersion: consent.textVersion,
            at: consent.at,
            location: consent.location === 1,
          },
    baseline: state.baseline.kind === "baseline" ? state.baseline : null,
    targetSpm: stage?.stepRateSpm ?? null,
    capSpm: running?.capSpm ?? null,
    targetSpeedMps: running?.speedMps ?? null,
    paceTable:
      stage === undefined || running === null || running.speedMps === null || exponent === undefined
        ? []
        : paceTable(stage.stepRateSpm, running.speedMps, { exponent }).map((row) => ({ ...row })),
    stageIndex: stage?.index ?? null,
    stageCount: running?.stages.length ?? null,
    stopped: plan?.status === "stopped",
    session: ahead.find((entry) => entry.on === day) ?? null,
    upcoming: ahead.filter((entry) => entry.on > day),
    cautions: running === null ? [...standardCautions] : [...running.cautions],
    settings: readSettings(group.settingsJson),
    linkExpiresAt: caller.linkExpiresAt,
  };
}
