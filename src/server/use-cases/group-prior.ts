// What the other runners of a group lend to one of them: how much days differ, and how step rate grows with speed.
import { groupPriorOf, type GroupPrior, type GroupRun } from "../../engine/change/group-prior.ts";
import { type Reading, WeekReader } from "../../store/index.ts";
import type { WeekState } from "../analysis/runner-state.ts";
import { json } from "./present.ts";

/**
 * From what is kept of the others; undefined while they say too little. Rounded, so that another runner's newest run does not move
 * this one's numbers by a hair.
 */
export async function groupPriorFor(db: Reading, groupId: string, runnerId: string): Promise<GroupPrior | undefined> {
  const rows = await new WeekReader(db).rows(groupId);
  const prior = groupPriorOf(
    rows.flatMap((row) =>
      row.id === runnerId || typeof row.weekJson !== "string" ? [] : runsOf(row.id, json<WeekState>(row.weekJson)),
    ),
  );
  return "kind" in prior ? undefined : rounded(prior);
}

/** Runs before and after; on the way the step rate is being changed. */
function runsOf(runnerId: string, state: WeekState): GroupRun[] {
  return state.runs.flatMap((run) =>
    run.phase === "before" || run.phase === "after"
      ? [
          {
            runnerId,
            phase: `${run.phase} ${run.surface}`,
            lnStepRate: Math.log(run.stepRateSpm),
            lnSpeed: Math.log(run.speedMps),
          },
        ]
      : [],
  );
}

function rounded(prior: GroupPrior): GroupPrior {
  const to = (step: number, value: number): number => Math.round(value / step) * step;
  return {
    ...prior,
    exponent: { mean: to(0.005, prior.exponent.mean), sd: to(0.005, prior.exponent.sd) },
    dayToDay: { median: Math.max(0.002, to(0.001, prior.dayToDay.median)), logSd: to(0.05, prior.dayToDay.logSd) },
    publishedShare: {
      exponent: to(0.1, prior.publishedShare.exponent),
      dayToDay: to(0.1, prior.publishedShare.dayToDay),
    },
  };
}
