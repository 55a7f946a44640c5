// The roster: every runner of a group with the latest of everything, in one query.
import { type RawBuilder, sql, type SqlBool } from "kysely";
import { beyond, cutPage, type Page, type PageRequest, readCursor } from "../paging.ts";
import type { Reading } from "../transaction.ts";

export interface RosterRequest extends PageRequest {
  readonly groupId: string;
  readonly search?: string;
  readonly sort: "name" | "baseline" | "target" | "last-recording" | "created";
  readonly descending: boolean;
  readonly archived: boolean;
  readonly remote?: boolean;
}

function rosterQuery(db: Reading, groupId: string) {
  return db
    .selectFrom("runner")
    .leftJoin("runnerState", "runnerState.runnerId", "runner.id")
    .leftJoin("plan", "plan.runnerId", "runner.id")
    .leftJoin("proposalDecision", "proposalDecision.runnerId", "runner.id")
    .selectAll("runner")
    .select([
      "runnerState.baselineSpm",
      "runnerState.finding",
      "runnerState.weekJson",
      "plan.currentSpm",
      "plan.currentStageIndex",
      "plan.stageCount",
      "plan.stopped",
      "proposalDecision.advice",
      "proposalDecision.targetSpm",
    ])
    .select((build) => [
      build
        .selectFrom("footCount")
        .select((inner) => inner.fn.max("footCount.measuredAt").as("at"))
        .whereRef("footCount.runnerId", "=", "runner.id")
        .as("lastCountAt"),
      build
        .selectFrom("recording")
        .select((inner) => inner.fn.max("recording.uploadedAt").as("at"))
        .whereRef("recording.runnerId", "=", "runner.id")
        .as("lastRecordingAt"),
      build
        .selectFrom("recording")
        .select((inner) => inner.fn.countAll<number>().as("count"))
        .whereRef("recording.runnerId", "=", "runner.id")
        .$asScalar()
        .$notNull()
        .as("recordingCount"),
      build
        .selectFrom("pain")
        .select("pain.score")
        .whereRef("pain.runnerId", "=", "runner.id")
        .orderBy("pain.at", "desc")
        .orderBy("pain.id", "desc")
        .limit(1)
        .as("latestPain"),
    ])
    .where("runner.groupId", "=", groupId);
}
export type RosterRow = Awaited<ReturnType<ReturnType<typeof rosterQuery>["execute"]>>[number];

/** What each order sorts by; rows without the value come as if it were below all others. */
const sortKeys = {
  name: sql<string>`${sql.ref("runner.nameKey")}`,
  created: sql<string>`${sql.ref("runner.createdAt")}`,
  baseline: sql<number>`coalesce(${sql.ref("runnerState.baselineSpm")}, 0)`,
  target: sql<number>`coalesce(${sql.ref("plan.currentSpm")}, 0)`,
  "last-recording": sql<string>`coalesce((select max(${sql.ref("recording.uploadedAt")}) from ${sql.table("recording")} where ${sql.ref("recording.runnerId")} = ${sql.ref("runner.id")}), '')`,
} as const;

export async function readRoster(db: Reading, request: RosterRequest): Promise<Page<RosterRow>> {
  const key: RawBuilder<string | number> = sortKeys[request.sort];
  const direction = request.descending ? "desc" : "asc";
  const cursor = readCursor(request.after);
  const search = request.search?.trim().toLowerCase() ?? "";
  let filtered = rosterQuery(db, request.groupId).where("runner.archived", "=", request.archived ? 1 : 0);
  if (request.remote !== undefined) filtered = filtered.where("runner.remote", "=", request.remote ? 1 : 0);
  if (search !== "") {
    const pattern = `%${search.replaceAll(/[\\%_]/g, (character) => `\\${character}`)}%`;
    filtered = filtered.where(sql<SqlBool>`${sql.ref("runner.nameKey")} like ${pattern} escape '\\'`);
  }
  const { total } = await filtered
    .clearSelect()
    .select((build) => build.fn.countAll<number>().as("total"))
    .executeTakeFirstOrThrow();
  const rows = await filtered
    .select(key.as("sortKey"))
    .$if(cursor !== null, (query) =>
      query.where((build) => beyond(build, { key, id: sql.ref("runner.id") }, cursor ?? ["", ""], direction)),
    )
    .orderBy(key, direction)
    .orderBy("runner.id", direction)
    .limit(request.limit + 1)
    .execute();
  return cutPage(rows, request.limit, Number(total), (row) => [row.sortKey, row.id]);
}
