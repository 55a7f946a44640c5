// What is written at the trackside waits here until the server has it: counts, attendance, pain, form notes.
import { useSyncExternalStore } from "react";
import { ApiError } from "../../api/index.ts";
import { createMemoryStorage, openIndexedStorage } from "../../ui/offline/indexed-storage.ts";
import {
  createOfflineQueue,
  type OfflineQueue,
  type QueuedWrite,
  type QueueState,
  type SendOutcome,
} from "../../ui/offline/queue.ts";
import type { CallInput } from "../../api/index.ts";
import { api } from "./client.ts";
import { sentencesOf } from "./problems.ts";

export interface OutboxWrites {
  readonly count: CallInput<"PUT /api/runners/:runnerId/counts/:countId">;
  readonly attendance: CallInput<"PUT /api/groups/:groupId/evenings/:on/attendance">;
  readonly pain: CallInput<"PUT /api/runners/:runnerId/pain/:entryId">;
  readonly "count-removal": CallInput<"DELETE /api/runners/:runnerId/counts/:countId">;
  readonly "form-note": CallInput<"PUT /api/runners/:runnerId/form-notes/:entryId">;
}

const routeOf = {
  count: "PUT /api/runners/:runnerId/counts/:countId",
  attendance: "PUT /api/groups/:groupId/evenings/:on/attendance",
  pain: "PUT /api/runners/:runnerId/pain/:entryId",
  "count-removal": "DELETE /api/runners/:runnerId/counts/:countId",
  "form-note": "PUT /api/runners/:runnerId/form-notes/:entryId",
} as const;

const EMPTY: QueueState = { waiting: [], refused: [], sending: false };
const stored = new Set<(write: QueuedWrite) => void>();
let current: OfflineQueue | undefined;
const watchers = new Set<() => void>();
const starting = start();

function tellEveryone(): void {
  for (const watcher of watchers) watcher();
}

async function start(): Promise<OfflineQueue> {
  const storage = await openIndexedStorage("spondee-desk").catch(() => createMemoryStorage());
  const queue = await createOfflineQueue({
    storage,
    send,
    exclusively: (work) =>
      "locks" in navigator ? navigator.locks.request("spondee-outbox", () => work()).then(() => undefined) : work(),
  });
  current = queue;
  queue.subscribe(tellEveryone);
  tellEveryone();
  addEventListener("online", () => void queue.flush());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void queue.flush();
  });
  // The browser's "online" event says nothing about our own server: ask again while something waits.
  setInterval(() => {
    if (queue.state().waiting.length > 0) void queue.flush();
  }, 5000);
  void queue.flush();
  return queue;
}

async function send(write: QueuedWrite): Promise<SendOutcome> {
  const route = routeOf[write.kind as keyof OutboxWrites];
  try {
    await api.call(route, write.payload as never);
    for (const listener of stored) listener(write);
    return { kind: "stored" };
  } catch (error) {
    const status = error instanceof ApiError ? error.problem.status : 0;
    // Signed out, too many requests, server in trouble or not there: not this entry's fault.
    if (status === 404 && write.kind === "count-removal") return { kind: "stored" };
    if (status === 0 || status === 401 || status === 429 || status >= 500) return { kind: "later" };
    return { kind: "refused", because: sentencesOf(error).join(" ") };
  }
}

/** Resolves when the write is safe on this device; it is sent as soon as the server can be reached. */
export async function post<Kind extends keyof OutboxWrites>(
  id: string,
  kind: Kind,
  payload: OutboxWrites[Kind],
): Promise<void> {
  const queue = await starting;
  await queue.add({ id, kind, payload, queuedAtMs: Date.now() });
  void queue.flush();
}

/** A cleared count: replaces a waiting one of the same id, and takes a stored one away. */
export async function removeCount(runnerId: string, countId: string): Promise<void> {
  await post(countId, "count-removal", { params: { runnerId, countId } });
}

export async function dropFromOutbox(id: string): Promise<void> {
  await (await starting).drop(id);
}

export async function flushOutbox(): Promise<void> {
  await (await starting).flush();
}

/** Tells when an entry has reached the server. */
export function onStored(listener: (write: QueuedWrite) => void): () => void {
  stored.add(listener);
  return () => stored.delete(listener);
}

export function useOutbox(): QueueState {
  return useSyncExternalStore(
    (watcher) => {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
    () => current?.state() ?? EMPTY,
  );
}
