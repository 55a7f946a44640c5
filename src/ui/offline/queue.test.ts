import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createMemoryStorage } from "./indexed-storage.ts";
import { createOfflineQueue, type QueuedWrite, type SendOutcome } from "./queue.ts";

const write = (id: string, queuedAtMs: number, payload: unknown = id): QueuedWrite => ({
  id,
  kind: "count",
  payload,
  queuedAtMs,
});

describe("offline queue", () => {
  it("keeps everything while offline, sends oldest first when back", async () => {
    let online = false;
    const sent: string[] = [];
    const queue = await createOfflineQueue({
      storage: createMemoryStorage(),
      send: (one) => {
        if (!online) return Promise.resolve({ kind: "later" });
        sent.push(one.id);
        return Promise.resolve({ kind: "stored" });
      },
    });
    await queue.add(write("b", 2));
    await queue.add(write("a", 1));
    await queue.flush();
    expect(queue.state().waiting.map((one) => one.id)).toEqual(["a", "b"]);
    online = true;
    await queue.flush();
    expect(sent).toEqual(["a", "b"]);
    expect(queue.state().waiting).toEqual([]);
  });

  it("a later version of the same entry replaces the earlier, also while that is on its way", async () => {
    const sent: unknown[] = [];
    let release: (() => void) | undefined;
    const storage = createMemoryStorage();
    const queue = await createOfflineQueue({
      storage,
      send: async (one) => {
        sent.push(one.payload);
        if (sent.length === 1) await new Promise<void>((resolve) => (release = resolve));
        return { kind: "stored" };
      },
    });
    await queue.add(write("a", 1, 78));
    const flushing = queue.flush();
    await new Promise((resolve) => setTimeout(resolve, 0));
    await queue.add(write("a", 2, 79));
    void queue.flush();
    release?.();
    await flushing;
    expect(sent).toEqual([78, 79]);
    expect(await storage.all()).toEqual([]);
  });

  it("a refused entry is put aside with its reason and does not hold up the others", async () => {
    const queue = await createOfflineQueue({
      storage: createMemoryStorage([write("bad", 1), write("good", 2)]),
      send: (one): Promise<SendOutcome> =>
        Promise.resolve(one.id === "bad" ? { kind: "refused", because: "not possible" } : { kind: "stored" }),
    });
    await queue.flush();
    expect(queue.state().waiting).toEqual([]);
    expect(queue.state().refused).toEqual([{ write: write("bad", 1), because: "not possible" }]);
    await queue.drop("bad");
    expect(queue.state().refused).toEqual([]);
  });

  it("what was queued before the page closed is there when it opens again", async () => {
    const storage = createMemoryStorage();
    const first = await createOfflineQueue({ storage, send: () => Promise.resolve({ kind: "later" }) });
    await first.add(write("a", 1));
    const second = await createOfflineQueue({ storage, send: () => Promise.resolve({ kind: "stored" }) });
    expect(second.state().waiting).toHaveLength(1);
    await second.flush();
    expect(await storage.all()).toEqual([]);
  });

  it("property: on a connection that fails at random, an entry leaves the queue only when the server has it", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 12 }),
        fc.array(fc.boolean(), { minLength: 40, maxLength: 40 }),
        async (n, luck) => {
          const stored = new Map<string, number>();
          let turn = 0;
          const queue = await createOfflineQueue({
            storage: createMemoryStorage(),
            send: (one) => {
              turn += 1;
              // Lost on the way there, or stored but the answer lost on the way back.
              if (luck[turn % luck.length] === true) stored.set(one.id, (stored.get(one.id) ?? 0) + 1);
              return Promise.resolve(
                luck[(turn * 7) % luck.length] === true && stored.has(one.id) ? { kind: "stored" } : { kind: "later" },
              );
            },
          });
          for (let i = 0; i < n; i += 1) await queue.add(write(`w${i}`, i));
          for (let i = 0; i < 200 && queue.state().waiting.length > 0; i += 1) await queue.flush();
          if (luck.some(Boolean) && queue.state().waiting.length === 0) expect(stored.size).toBe(n);
          expect(stored.size + queue.state().waiting.length).toBeGreaterThanOrEqual(n);
        },
      ),
      { seed: 21, numRuns: 60 },
    );
  });
});
