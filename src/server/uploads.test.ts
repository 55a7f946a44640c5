import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { gpx } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { sha256, startTestServer, type TestServer } from "../../tests/test-server.ts";
import { createLocalAnalyst } from "./analysis/analyst.ts";
import { jobHandlers } from "./jobs/handlers.ts";
import { createJobRunner } from "./jobs/job-runner.ts";
import { startHousekeeping } from "./jobs/housekeeping.ts";
import { tidy } from "./jobs/tidy.ts";

describe.each(storeVariants)("recordings on $name", (variant) => {
  let server: TestServer;
  let runnerId: string;
  let groupId: string;
  beforeEach(async () => {
    server = await startTestServer(variant);
    groupId = await server.group();
    runnerId = await server.runner(groupId);
  });
  afterEach(() => server.close());

  const send = (recordingId: string, file: unknown, query: object = {}) =>
    server.coach.call("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId },
      query: { fileName: "run.gpx", ...query },
      file,
    });
  const rowCounts = async () => {
    const { db } = server.deps.store;
    const tables = ["recording", "recordingChunk", "analysis", "job", "change", "changeRow"] as const;
    const counts = [];
    for (const table of tables)
      counts.push(
        Number(
          (
            await db
              .selectFrom(table)
              .select((b) => b.fn.countAll<number>().as("n"))
              .executeTakeFirstOrThrow()
          ).n,
        ),
      );
    return counts;
  };

  test("a run comes back byte for byte, with its numbers", async () => {
    const bytes = gpx(1);
    const id = server.id();
    const { body } = await send(id, bytes, { phase: "before", sha256: sha256(bytes) });
    expect(body).toMatchObject({
      outcome: "stored",
      recording: { state: "analysed", phase: "before", byteCount: bytes.length },
    });
    // The invented truth: 160 spm at 2.7 m/s, with about 1 % from day to day.
    expect(body.recording.summary?.stepRateSpm?.mean).toBeGreaterThan(155);
    expect(body.recording.summary?.stepRateSpm?.mean).toBeLessThan(165);
    expect(body.recording.summary?.speedMps?.mean).toBeCloseTo(2.7, 1);
    const file = await server.coach.call("GET /api/runners/:runnerId/recordings/:recordingId/file", {
      params: { runnerId, recordingId: id },
    });
    expect(file.raw.equals(bytes)).toBe(true);
  });

  test("sending again is safe: the same id, the same bytes, both at once", async () => {
    const bytes = gpx(1);
    const id = server.id();
    expect((await send(id, bytes)).body.outcome).toBe("stored");
    expect((await send(id, bytes)).body.outcome).toBe("already-stored");
    const copy = await send(server.id(), bytes);
    expect(copy.body).toMatchObject({ outcome: "duplicate", recording: { id } });
    expect((await send(id, gpx(2))).status).toBe(409);
    const fresh = gpx(3);
    const answers = await Promise.all(Array.from({ length: 6 }, () => send(server.id(), fresh)));
    const outcomes = answers.map((answer) => answer.body.outcome).sort();
    expect(outcomes).toEqual(["duplicate", "duplicate", "duplicate", "duplicate", "duplicate", "stored"]);
    expect(new Set(answers.map((answer) => answer.body.recording.id)).size).toBe(1);
  });

  const bad: readonly (readonly [string, Buffer, string])[] = [
    ["an empty file", Buffer.alloc(0), "file-empty"],
    ["binary under a .gpx name", Buffer.from([0, 1, 2, 3, 255, 254]), "file-binary"],
    ["a cut file", gpx(1).subarray(0, 4000), "xml-"],
    ["text that is no recording", Buffer.from("dear coach"), "file-unknown"],
    [
      "an entity bomb",
      Buffer.from('<?xml version="1.0"?><!DOCTYPE g [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><gpx>&b;</gpx>'),
      "",
    ],
    ["a compressed file", Buffer.from("PK\u0003\u0004....", "latin1"), "file-compressed"],
  ];
  test.each(bad)("%s is refused with its problem and leaves nothing", async (_name, bytes, code) => {
    const before = await rowCounts();
    const answer = await send(server.id(), bytes);
    expect(answer.status).toBe(422);
    expect(answer.problem.problems?.length).toBeGreaterThan(0);
    expect(answer.problem.code.startsWith(code), answer.problem.code).toBe(true);
    expect(await rowCounts()).toEqual(before);
    const folder = join(server.deps.settings.dataDir, "uploads");
    expect(existsSync(folder) ? readdirSync(folder) : []).toEqual([]);
  });

  test("a sender that breaks off, and bytes that changed on the way, leave nothing", async () => {
    const before = await rowCounts();
    async function* breaking() {
      yield gpx(1).subarray(0, 50_000);
      await Promise.resolve();
      throw new Error("the line went dead");
    }
    await send(server.id(), breaking()).catch(() => undefined);
    expect((await send(server.id(), gpx(1), { sha256: "0".repeat(64) })).problem.code).toBe("damaged-on-the-way");
    expect(await rowCounts()).toEqual(before);
    expect(readdirSync(join(server.deps.settings.dataDir, "uploads"))).toEqual([]);
  });

  test("labels are kept, new cue blocks are read again by a job, and all of it can be undone", async () => {
    const id = server.id();
    await send(id, gpx(1, { minutes: 14 }));
    const params = { runnerId, recordingId: id };
    const edit = {
      phase: "during" as const,
      surface: "outdoor" as const,
      excluded: false,
      cueBlocks: [{ startS: 0, endS: 400, cue: "on" as const, targetSpm: 165 }],
    };
    const { changeId } = await server.coach.ok("PATCH /api/runners/:runnerId/recordings/:recordingId", {
      params,
      body: edit,
    });
    expect(await server.jobs.drain()).toBe(1);
    const detail = await server.coach.ok("GET /api/runners/:runnerId/recordings/:recordingId", { params, query: {} });
    expect(detail.recording).toMatchObject({ phase: "during", cueBlocks: edit.cueBlocks });
    expect(detail.windows.find((window) => window.startS > 100 && window.endS < 300)?.cue).toBe("on");
    expect(detail.windows.find((window) => window.startS > 450)?.cue).not.toBe("on");
    await server.coach.ok("POST /api/groups/:groupId/changes/:changeId/undo", {
      params: { groupId, changeId: changeId ?? "" },
    });
    const undone = await server.coach.ok("GET /api/runners/:runnerId/recordings/:recordingId", { params, query: {} });
    expect(undone.recording).toMatchObject({ phase: "before", cueBlocks: [] });
    const empty = await server.coach.call("PATCH /api/runners/:runnerId/recordings/:recordingId", {
      params,
      body: { ...edit, trimStartS: 50, trimEndS: 40 },
    });
    expect(empty.problem.code).toBe("trim-empty");
  });

  test("a removed recording comes back whole by undo, and its bytes go when it cannot any more", async () => {
    const id = server.id();
    const bytes = gpx(1);
    await send(id, bytes);
    const params = { runnerId, recordingId: id };
    const removed = await server.coach.ok("DELETE /api/runners/:runnerId/recordings/:recordingId", { params });
    await tidy(server.deps);
    await server.coach.ok("POST /api/groups/:groupId/changes/:changeId/undo", {
      params: { groupId, changeId: removed.changeId ?? "" },
    });
    const back = await server.coach.call("GET /api/runners/:runnerId/recordings/:recordingId/file", { params });
    expect(back.raw.equals(bytes)).toBe(true);
    await server.coach.ok("DELETE /api/runners/:runnerId/recordings/:recordingId", { params });
    server.clock.set("2026-05-01T00:00:00Z");
    await tidy(server.deps);
    expect((await rowCounts()).slice(0, 3)).toEqual([0, 0, 0]);
  });

  test("what another engine version read is read again, once, and resumes after a kill", async () => {
    for (const seed of [1, 2, 3]) await send(server.id(), gpx(seed));
    const newer = { ...server.deps, analyst: createLocalAnalyst("test-2") };
    const stop = await startHousekeeping(newer);
    stop();
    const jobs = createJobRunner(newer, jobHandlers(newer));
    // A process that dies between claiming and finishing: its claim runs out.
    await server.deps.store.db
      .updateTable("job")
      .set({ claimedBy: "dead", claimedUntil: "2026-03-05T18:00:30.000Z" })
      .execute();
    expect(await jobs.drain()).toBe(0);
    server.clock.set("2026-03-05T18:01:00Z");
    // One that looks, three that read, the day's tidying, and a look at the mail.
    expect(await jobs.drain()).toBe(6);
    const versions = await server.deps.store.db.selectFrom("analysis").select("engineVersion").execute();
    expect(versions.map((row) => row.engineVersion)).toEqual(["test-2", "test-2", "test-2"]);
    expect(await jobs.drain()).toBe(0);
    await jobs.stop();
  });

  test("a job that fails is tried again later and never blocks the next", async () => {
    let tries = 0;
    const jobs = createJobRunner(server.deps, {
      bad: () => {
        tries += 1;
        return Promise.reject(new Error("no"));
      },
      good: () => Promise.resolve(),
    });
    const { addJob } = await import("../store/index.ts");
    const at = "2026-03-05T18:00:00.000Z";
    await server.deps.store.write(async (trx) => {
      await addJob(trx, { id: "a", jobKey: "a", kind: "bad", payload: null, at });
      await addJob(trx, { id: "b", jobKey: "b", kind: "good", payload: null, at });
    });
    expect(await jobs.drain()).toBe(2);
    expect(await jobs.drain()).toBe(0);
    server.clock.set("2026-03-05T18:05:00Z");
    expect(await jobs.drain()).toBe(1);
    expect(tries).toBe(2);
    expect(server.logLines.join("")).toContain("job failed");
    await jobs.stop();
  });
});
