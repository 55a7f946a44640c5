// What the week's triage needs of all runners of a group, in a handful of queries.
import type { Selectable } from "kysely";
import type { Database } from "../schema/database.ts";
import type { Reading } from "../transaction.ts";

export class WeekReader {
  readonly #db: Reading;
  constructor(db: Reading) {
    this.#db = db;
  }

  /** Every runner with what was computed of them for the week; the plans themselves stay where they are. */
  rows(groupId: string) {
    return this.#db
      .selectFrom("runner")
      .leftJoin("runnerState", "runnerState.runnerId", "runner.id")
      .leftJoin("proposalDecision", "proposalDecision.runnerId", "runner.id")
      .select(["runner.id", "runner.name", "runner.initials", "runner.remote"])
      .select(["runnerState.weekJson", "proposalDecision.advice"])
      .where("runner.groupId", "=", groupId)
      .where("runner.archived", "=", 0)
      .orderBy("runner.nameKey")
      .orderBy("runner.id")
      .execute();
  }

  /** Every runner with their whole plan. */
  runners(groupId: string) {
    return this.#db
      .selectFrom("runner")
      .leftJoin("runnerState", "runnerState.runnerId", "runner.id")
      .leftJoin("plan", "plan.runnerId", "runner.id")
      .leftJoin("proposalDecision", "proposalDecision.runnerId", "runner.id")
      .selectAll("runner")
      .select([
        "runnerState.weekJson",
        "plan.planJson",
        "plan.currentSpm",
        "plan.currentStageIndex",
        "plan.stageCount",
        "plan.stopped",
        "proposalDecision.advice",
        "proposalDecision.targetSpm",
      ])
      .where("runner.groupId", "=", groupId)
      .where("runner.archived", "=", 0)
      .orderBy("runner.nameKey")
      .orderBy("runner.id")
      .execute();
  }

  /** The whole computed state of each runner, for the end of a programme. */
  async states(groupId: string): Promise<ReadonlyMap<string, string | null>> {
    const rows = await this.#db
      .selectFrom("runnerState")
      .innerJoin("runner", "runner.id", "runnerState.runnerId")
      .select(["runnerState.runnerId", "runnerState.stateJson"])
      .where("runner.groupId", "=", groupId)
      .execute();
    return new Map(rows.map((row) => [row.runnerId, row.stateJson]));
  }

  decisions(groupId: string, weekStartsOn: string): Promise<Selectable<Database["decision"]>[]> {
    return this.#db
      .selectFrom("decision")
      .selectAll()
      .where("groupId", "=", groupId)
      .where("weekStartsOn", "=", weekStartsOn)
      .execute();
  }

  pain(groupId: string, from: string, to: string): Promise<Selectable<Database["pain"]>[]> {
    return this.#db
      .selectFrom("pain")
      .innerJoin("runner", "runner.id", "pain.runnerId")
      .selectAll("pain")
      .where("runner.groupId", "=", groupId)
      .where("pain.at", ">=", from)
      .where("pain.at", "<", to)
      .orderBy("pain.at")
      .execute();
  }

  counts(groupId: string, from: string, to: string) {
    return this.#db
      .selectFrom("footCount")
      .innerJoin("runner", "runner.id", "footCount.runnerId")
      .selectAll("footCount")
      .where("runner.groupId", "=", groupId)
      .where("footCount.measuredAt", ">=", from)
      .where("footCount.measuredAt", "<", to)
      .execute();
  }

  /** Sessions reported as done. */
  doneReports(groupId: string, from: string, to: string) {
    return this.#db
      .selectFrom("report")
      .innerJoin("runner", "runner.id", "report.runnerId")
      .select(["report.runnerId", "report.at"])
      .where("runner.groupId", "=", groupId)
      .where("report.done", "=", 1)
      .where("report.at", ">=", from)
      .where("report.at", "<", to)
      .execute();
  }

  attendance(groupId: string, onDate: string): Promise<Selectable<Database["attendance"]>[]> {
    return this.#db
      .selectFrom("attendance")
      .selectAll()
      .where("groupId", "=", groupId)
      .where("onDate", "=", onDate)
      .execute();
  }

  async attendedCounts(groupId: string): Promise<ReadonlyMap<string, number>> {
    const rows = await this.#db
      .selectFrom("attendance")
      .select("runnerId")
      .select((build) => build.fn.countAll<number>().as("count"))
      .where("groupId", "=", groupId)
      .where("presence", "=", "present")
      .groupBy("runnerId")
      .execute();
    return new Map(rows.map((row) => [row.runnerId, Number(row.count)]));
  }

  async doneCounts(groupId: string): Promise<ReadonlyMap<string, number>> {
    const rows = await this.#db
      .selectFrom("report")
      .innerJoin("runner", "runner.id", "report.runnerId")
      .select("report.runnerId")
      .select((build) => build.fn.countAll<number>().as("count"))
      .where("runner.groupId", "=", groupId)
      .where("report.done", "=", 1)
      .groupBy("report.runnerId")
      .execute();
    return new Map(rows.map((row) => [row.runnerId, Number(row.count)]));
  }
}
