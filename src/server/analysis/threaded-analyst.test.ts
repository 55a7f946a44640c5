import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { buildChild } from "../../../tests/child-server.ts";
import { gpx } from "../../../tests/scene.ts";
import { createLocalAnalyst } from "./analyst.ts";
import { createThreadedAnalyst } from "./threaded-analyst.ts";

const labels = { fileName: "run.gpx", surface: "unknown", trimStartS: 0, trimEndS: null, cueBlocks: [] } as const;

describe("the analysis thread", () => {
  let program: Awaited<ReturnType<typeof buildChild>>;
  beforeAll(async () => {
    program = await buildChild();
  });
  afterAll(() => program.remove());
  const start = (maxMs = 60_000, maxMemoryMb = 512) =>
    createThreadedAnalyst({
      engineVersion: "t",
      workerFile: join(dirname(program.file), "analysis-worker.mjs"),
      maxMs,
      maxMemoryMb,
    });

  test("slow twin: says exactly what the calling thread would say, in the order asked", async () => {
    const threaded = start();
    const local = createLocalAnalyst("t");
    const files = [gpx(1), Buffer.from("junk"), gpx(2)];
    const [there, here] = await Promise.all([
      Promise.all(files.map((bytes) => threaded.readFile(bytes, labels))),
      Promise.all(files.map((bytes) => local.readFile(bytes, labels))),
    ]);
    expect(there).toEqual(here);
    expect(there.map((result) => result.ok)).toEqual([true, false, true]);
    await threaded.close();
  });

  test("leaves the event loop free while it works", async () => {
    const threaded = start();
    await threaded.readFile(gpx(1), labels);
    let looks = 0;
    const timer = setInterval(() => (looks += 1), 1);
    await Promise.all([3, 4, 5, 6].map((seed) => threaded.readFile(gpx(seed, { minutes: 60 }), labels)));
    clearInterval(timer);
    expect(looks).toBeGreaterThan(5);
    await threaded.close();
  });

  test("a file that takes too long is a problem, and the next file gets a new thread", async () => {
    const hasty = start(1);
    const slow = await hasty.readFile(gpx(1, { minutes: 120 }), labels);
    expect(slow).toMatchObject({ ok: false, problems: [{ code: "analysis-too-slow", where: { file: "run.gpx" } }] });
    await hasty.close();
    await expect(hasty.readFile(gpx(1), labels)).rejects.toThrow("closed");
  });
});
