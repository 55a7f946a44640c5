// A database as it is after years: copies of one invented runner, made inside the database so that a million come quickly.
import { createHash, randomBytes } from "node:crypto";
import { type RawBuilder, sql } from "kysely";
import type { Plan } from "../../src/engine/plan/plan.ts";
import { outlineOf } from "../../src/engine/plan/plan-outline.ts";
import { evaluateRunner } from "../../src/server/analysis/evaluate-runner.ts";
import { weekStateOf } from "../../src/server/analysis/runner-state.ts";
import type { Deps } from "../../src/server/app/deps.ts";
import { seedDemoGroup } from "../../src/server/demo/seed-demo.ts";
import { evaluationInput } from "../../src/server/use-cases/evaluation-input.ts";
import type { Store } from "../../src/store/index.ts";

export const RUNS_PER_RUNNER = 50;
export const RUNNERS_PER_GROUP = 40;
/** Other rows of each runner. */
const COUNTS = 12;
const PAINS = 10;
const REPORTS = 20;
const DECISIONS = 6;

export interface FilledGroup {
  readonly id: string;
  readonly cookie: string;
  readonly runnerIds: readonly string[];
}

type Row = Readonly<Record<string, unknown>>;

/** So many summaries of runs, 50 to a runner, 40 runners to a coach. */
export async function fill(deps: Deps, summaries: number): Promise<readonly FilledGroup[]> {
  const { store } = deps;
  const model = await modelRunner(deps);
  const groupCount = Math.max(1, Math.round(summaries / RUNS_PER_RUNNER / RUNNERS_PER_GROUP));
  const runnerCount = groupCount * RUNNERS_PER_GROUP;
  const groups = Array.from({ length: groupCount }, (_, g) => ({
    id: idText("a", g),
    coachId: idText("b", g),
    token: randomBytes(32).toString("base64url"),
    runnerIds: Array.from({ length: RUNNERS_PER_GROUP }, (_, r) => idText("c", g * RUNNERS_PER_GROUP + r)),
  }));
  await store.db.transaction().execute(async (trx) => {
    for (const [index, group] of groups.entries()) {
      const account = { ...model.account, id: group.coachId, signInName: `coach-${index}`, owner: 0 };
      await trx.insertInto("account").values(account).execute();
      await trx
        .insertInto("coachGroup")
        .values({ ...model.group, id: group.id, invented: 0 })
        .execute();
      await trx
        .insertInto("member")
        .values({ id: `${group.id}/${group.coachId}`, groupId: group.id, accountId: group.coachId, role: "coach" })
        .execute();
      await trx
        .insertInto("signInSession")
        .values({
          tokenHash: createHash("sha256").update(group.token).digest("base64url"),
          accountId: group.coachId,
          createdAt: model.account.createdAt,
          lastSeenAt: new Date().toISOString(),
          expiresAt: "2099-01-01T00:00:00.000Z",
        })
        .execute();
    }
  });
  const n = sql.ref<number>("n");
  const runnerOf = (each: number): RawBuilder<string> => idSql(store, "c", sql`${n} / ${sql.lit(each)}`);
  const groupOf = (each: number): RawBuilder<string> =>
    idSql(store, "a", sql`${n} / ${sql.lit(each * RUNNERS_PER_GROUP)}`);
  const many = (table: string, row: Row, each: number, own: Row, letter: string): Promise<void> =>
    copies(store, table, { ...row, id: idSql(store, letter, n), runnerId: runnerOf(each), ...own }, runnerCount * each);
  await copies(
    store,
    "runner",
    {
      ...model.runner,
      id: idSql(store, "c", n),
      groupId: groupOf(1),
      name: sql`'Runner ' || ${n}`,
      nameKey: sql`'runner ' || ${n}`,
    },
    runnerCount,
  );
  const ofRunner = { id: runnerOf(1), runnerId: runnerOf(1) };
  await copies(store, "plan", { ...model.plan, ...ofRunner }, runnerCount);
  await copies(store, "proposalDecision", { ...model.accepted, ...ofRunner }, runnerCount);
  await copies(store, "runnerState", { ...model.state, runnerId: runnerOf(1) }, runnerCount);
  await many("recording", model.recording, RUNS_PER_RUNNER, { contentSha256: idSql(store, "d", n) }, "d");
  const analyses = { ...model.analysis, recordingId: idSql(store, "d", n) };
  await copies(store, "analysis", analyses, runnerCount * RUNS_PER_RUNNER);
  await many("footCount", model.count, COUNTS, {}, "e");
  await many("pain", model.pain, PAINS, {}, "f");
  const report = { at: model.pain["at"], sessionId: null, recordingId: null, effortRating: 5, done: 1, note: "" };
  await many("report", report, REPORTS, {}, "1");
  const weeksAgo = {
    groupId: groupOf(DECISIONS),
    weekStartsOn: sql`'2026-0' || (1 + ${n} % ${sql.lit(DECISIONS)}) || '-01'`,
  };
  await many("decision", model.decision, DECISIONS, weeksAgo, "2");
  await sql`analyze`.execute(store.db);
  return groups.map(({ id, token, runnerIds }) => ({ id, cookie: `spondee=${token}`, runnerIds }));
}

/** Rows 0 … count − 1 of a table; values are the same in all, except expressions of `n`. */
async function copies(store: Store, table: string, row: Row, count: number): Promise<void> {
  const names = Object.keys(row);
  const value = (of: unknown): RawBuilder<unknown> =>
    typeof of === "object" && of !== null && "toOperationNode" in of ? (of as RawBuilder<unknown>) : typed(store, of);
  await sql`
    with recursive seq(n) as (select 0 union all select n + 1 from seq where n < ${sql.lit(count - 1)})
    insert into ${sql.table(table)} (${sql.join(names.map((name) => sql.ref(name)))})
    select ${sql.join(names.map((name) => value(row[name])))} from seq`.execute(store.db);
}

/** PostgreSQL wants to know the type of a parameter that is selected. */
function typed(store: Store, of: unknown): RawBuilder<unknown> {
  if (of === null) return sql`null`;
  if (store.kind === "sqlite") return sql`${of}`;
  if (typeof of === "number") return Number.isInteger(of) ? sql`${sql.lit(of)}` : sql`${sql.lit(of)}::double precision`;
  return sql`${of}::text`;
}

const PREFIX = "01900000-0000-7000-800";

function idText(letter: string, index: number): string {
  return `${PREFIX}${letter}-${index.toString(16).padStart(12, "0")}`;
}

function idSql(
  store: Store,
  letter: string,
  index: RawBuilder<number> | ReturnType<typeof sql.ref>,
): RawBuilder<string> {
  const prefix = sql.lit(`${PREFIX}${letter}-`);
  return store.kind === "sqlite"
    ? sql`${prefix} || printf('%012x', ${index})`
    : sql`${prefix} || lpad(to_hex(${index}), 12, '0')`;
}

/** One runner of the demo group with 50 runs: everything about them is of its usual size. */
async function modelRunner(deps: Deps) {
  const { db } = deps.store;
  const account = {
    id: idText("b", 0xffffff),
    signInName: "seed",
    displayName: "Seed",
    passwordHash: null,
    owner: 1,
    disabled: 0,
    createdAt: "2026-01-01T00:00:00.000Z",
  };
  await db.insertInto("account").values(account).execute();
  const groupId = await seedDemoGroup(deps, account);
  const one = <T>(rows: readonly T[], what: string): T => {
    const [first] = rows;
    if (first === undefined) throw new Error(`the demo has no ${what}`);
    return first;
  };
  const group = one(await db.selectFrom("coachGroup").selectAll().where("id", "=", groupId).execute(), "group");
  const runner = one(
    await db
      .selectFrom("runner")
      .innerJoin("plan", "plan.runnerId", "runner.id")
      .innerJoin("recording", "recording.runnerId", "runner.id")
      .selectAll("runner")
      .where("runner.groupId", "=", groupId)
      .orderBy("runner.name")
      .execute(),
    "runner with a plan and a run",
  );
  const of = <T extends "plan" | "proposalDecision" | "footCount" | "decision" | "recording">(table: T) =>
    db
      .selectFrom(table as "plan")
      .selectAll()
      .where("runnerId", "=", runner.id)
      .limit(1)
      .execute() as Promise<unknown> as Promise<Row[]>;
  const plan = one(await of("plan"), "plan");
  const recording = one(await of("recording"), "recording");
  const analysis = one(
    await db.selectFrom("analysis").selectAll().where("recordingId", "=", String(recording["id"])).execute(),
    "analysis",
  );
  const state = evaluateRunner(await evaluationInput(db, runner.id));
  const runs = Array.from({ length: RUNS_PER_RUNNER }, (_, index) => state.runs[index % state.runs.length]);
  const full = { ...state, runs: runs.filter((run) => run !== undefined) };
  const at = new Date().toISOString();
  return {
    account,
    group,
    runner,
    plan,
    recording,
    accepted: one(await of("proposalDecision"), "accepted proposal"),
    count: one(await of("footCount"), "count"),
    decision: one(await of("decision"), "decision"),
    pain: { score: 1, place: "calf", signsJson: "[]", at, note: "", enteredBy: "runner" } as Row,
    // Windows and traces are read one recording at a time; here only the summaries matter.
    analysis: { ...analysis, windowsJson: "[]", traceGzip: null },
    state: {
      dataVersion: 1,
      computedFor: 1,
      engineVersion: deps.analyst.engineVersion,
      baselineSpm: 160.5,
      finding: "changed",
      stateJson: JSON.stringify(full),
      weekJson: JSON.stringify(weekStateOf(full, outlineOf(JSON.parse(String(plan["planJson"])) as Plan))),
      computedAt: at,
    },
  };
}
