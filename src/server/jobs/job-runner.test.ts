// Lanes of work: what waits for another machine holds up nothing else.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { storeVariants } from "../../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../../tests/test-server.ts";
import { addJob } from "../../store/index.ts";
import { OWN_LANES } from "./handlers.ts";
import { createJobRunner } from "./job-runner.ts";

describe.each(storeVariants)("lanes of work on $name", (variant) => {
  let server: TestServer;
  beforeEach(async () => {
    server = await startTestServer(variant);
  });
  afterEach(() => server.close());

  const ask = (id: string, kind: string) =>
    server.deps.store.write((trx) =>
      addJob(trx, { id, jobKey: id, kind, payload: null, at: "2026-03-05T18:00:00.000Z" }),
    );

  test("a mail server that hangs keeps no recording waiting, also one that comes meanwhile; the end of the program cuts it", async () => {
    const read: string[] = [];
    let tell: (() => void) | undefined;
    const analysed = (count: number) =>
      new Promise<void>((resolve) => {
        tell = () => void (read.length >= count && resolve());
        tell();
      });
    const jobs = createJobRunner(
      server.deps,
      {
        "send-mail": (_, stopping) =>
          new Promise((resolve) => stopping.addEventListener("abort", () => resolve(), { once: true })),
        analyse: () => {
          read.push("one");
          tell?.();
          return Promise.resolve();
        },
      },
      { ownLanes: OWN_LANES },
    );
    await ask("a-mail", "send-mail");
    await ask("b-run", "analyse");
    const drained = jobs.drain();
    await analysed(1);
    await ask("c-run", "analyse");
    jobs.wake();
    await analysed(2);
    await jobs.stop();
    expect(await drained).toBeGreaterThanOrEqual(2);
    expect(await server.deps.store.db.selectFrom("job").select("id").execute()).toEqual([]);
  });

  test("each job is in one lane: with and without lanes of their own, all kinds are worked off once", async () => {
    for (const ownLanes of [[], ["b"], ["a", "b"]]) {
      const done: string[] = [];
      const note = (kind: string) => () => Promise.resolve(void done.push(kind));
      for (const kind of ["a", "b", "c"]) await ask(`${kind}-${ownLanes.length}`, kind);
      const jobs = createJobRunner(server.deps, { a: note("a"), b: note("b"), c: note("c") }, { ownLanes });
      expect(await jobs.drain()).toBe(3);
      expect(done.toSorted()).toEqual(["a", "b", "c"]);
      await jobs.stop();
    }
  });
});
