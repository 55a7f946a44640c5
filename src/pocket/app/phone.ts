// The page's memory: who it is for, what the server last said, what waits. Screens read a snapshot and ask for changes.
import { ApiError } from "../../api/client.ts";
import type { RunnerToday } from "../../api/index.ts";
import {
  createOfflineQueue,
  type OfflineQueue,
  type QueuedWrite,
  type QueueState,
  type QueueStorage,
} from "../../ui/offline/queue.ts";
import { createMemoryStorage, openIndexedStorage } from "../../ui/offline/indexed-storage.ts";
import { api, nowInstant, phoneClock, useToken } from "../data/client.ts";
import { DATABASE_NAME, type KeptRun, openPocketDatabase, type PocketDatabase } from "../data/database.ts";
import { type Facts, forgetFact, readFact, TODAY_SHAPE, writeFact } from "../data/facts.ts";
import { createSender, type LinkTrouble, type Sendable, type Sendables } from "../data/outbox.ts";
import { defaultPreferences, type Preferences } from "../data/preferences.ts";
import { allRuns, removeRun } from "../data/runs.ts";
import { weekAt, type WeekAnswered } from "../today/week-question.ts";

const OUTBOX_NAME = "spondee-pocket-outbox";
const CONSENT_TEXT = "1";
/** A network that swallows everything must not keep the page asking. */
const ANSWER_WITHIN_MS = 15_000;

export interface PhoneState {
  readonly hasLink: boolean;
  readonly today: RunnerToday | undefined;
  /** When the server was last heard, UTC milliseconds. */
  readonly fetchedAtMs: number | undefined;
  readonly consent: Facts["consent"] | undefined;
  readonly preferences: Preferences;
  readonly learnedSpm: number | undefined;
  readonly weekAnswered: WeekAnswered | undefined;
  readonly outbox: QueueState;
  readonly runs: readonly KeptRun[];
  readonly trouble: LinkTrouble;
  /** Asking the server now. */
  readonly asking: boolean;
  readonly online: boolean;
}

export interface Phone {
  readonly database: PocketDatabase;
  readonly state: () => PhoneState;
  readonly subscribe: (listener: () => void) => () => void;
  refresh(): Promise<void>;
  /**
   * Resolves when it is safe on the phone; it is sent as soon as that is possible. Without consent only consent itself
   * and pain, which protects the runner, are sent: anything else answers "not-sent" and is not kept for sending.
   */
  send<Kind extends Sendable>(id: string, kind: Kind, input: Sendables[Kind]): Promise<"kept" | "not-sent">;
  /** Sends what waits. */
  flush(): Promise<void>;
  dropWaiting(id: string): Promise<void>;
  /** Puts an entry that was refused back in the queue. */
  sendAgain(id: string): Promise<void>;
  consent(given: boolean, location: boolean): Promise<void>;
  prefer(change: Partial<Preferences>): Promise<void>;
  learned(stepRateSpm: number): Promise<void>;
  /** The week's question about pain was answered; with the calf and Achilles in it or not. */
  answeredWeek(calfAchilles: boolean): Promise<void>;
  /** UTC milliseconds, corrected by what the server said. */
  nowMs(): number;
  /** Looks again at what is kept; queues every complete run that is not queued yet. */
  lookAtRuns(): Promise<void>;
  forgetRun(runId: string): Promise<void>;
  /** Forgets everything that this phone keeps. */
  wipe(): Promise<void>;
}

/** `linkToken`: from the address just opened; it replaces the one that was kept. */
export async function openPhone(linkToken: string | undefined): Promise<Phone> {
  // Side by side: the page is to be there at once.
  const [database, storage] = await Promise.all([
    openPocketDatabase(),
    openIndexedStorage(OUTBOX_NAME).catch(() => createMemoryStorage()),
  ]);
  const listeners = new Set<() => void>();
  const keptToken = await readFact(database, "token");
  const token = linkToken ?? keptToken;
  if (linkToken !== undefined && linkToken !== keptToken) {
    // Another link: what the old one showed is not for whoever holds this one.
    await forgetFact(database, "today");
    await forgetFact(database, "consent");
    await forgetFact(database, "weekAnswered");
    await writeFact(database, "token", linkToken);
  }
  const [found, consent, preferences, learnedSpm, weekAnswered, runs] = await Promise.all([
    readFact(database, "today"),
    readFact(database, "consent"),
    readFact(database, "preferences"),
    readFact(database, "learnedSpm"),
    readFact(database, "weekAnswered"),
    allRuns(database),
  ]);
  const kept = found?.shape === TODAY_SHAPE ? found : undefined;
  useToken(token);
  if (kept !== undefined && Date.parse(kept.answer.serverTime) > Date.now())
    phoneClock.told(Date.parse(kept.answer.serverTime));
  let state: PhoneState = {
    hasLink: token !== undefined,
    today: kept?.answer,
    fetchedAtMs: kept?.fetchedAtMs,
    consent,
    preferences: preferences ?? defaultPreferences(kept?.answer.settings.click),
    learnedSpm,
    weekAnswered,
    outbox: { waiting: [], refused: [], sending: false },
    runs,
    trouble: null,
    asking: false,
    online: navigator.onLine,
  };
  const set = (change: Partial<PhoneState>): void => {
    state = { ...state, ...change };
    for (const listener of listeners) listener();
  };
  const queue = await openQueue(
    storage,
    createSender({
      database,
      runnerId: () => state.today?.runnerId,
      onTrouble: (trouble) => trouble !== state.trouble && set({ trouble }),
    }),
  );
  set({ outbox: queue.state() });
  queue.subscribe(() => set({ outbox: queue.state() }));

  const flush = async (): Promise<void> => {
    if (state.today === undefined || state.trouble === "link-ended") return;
    await queue.flush();
    set({ runs: await allRuns(database) });
  };

  const refresh = async (): Promise<void> => {
    if (token === undefined || state.asking) return;
    set({ asking: true });
    try {
      const answer = await api.call("GET /api/runner/today", { signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
      phoneClock.told(Date.parse(answer.serverTime));
      const fetchedAtMs = Date.now();
      await writeFact(database, "today", { answer, fetchedAtMs, shape: TODAY_SHAPE });
      // The server's word on consent counts, unless ours is still on its way.
      const waiting = queue.state().waiting.some((write) => write.id === "consent");
      const told = answer.consent;
      const consent =
        waiting || told === null
          ? waiting
            ? state.consent
            : undefined
          : { given: told.given, location: told.location, at: told.at };
      if (consent === undefined) await forgetFact(database, "consent");
      else await writeFact(database, "consent", consent);
      set({ today: answer, fetchedAtMs, consent, trouble: null, online: true });
    } catch (error) {
      if (error instanceof ApiError && error.problem.status === 401) set({ trouble: "link-ended" });
      else if (error instanceof ApiError && error.problem.status === 0) set({ online: false });
    } finally {
      set({ asking: false });
    }
    await flush();
  };

  const send: Phone["send"] = async (id, kind, input) => {
    const runnerId = state.today?.runnerId;
    if (runnerId === undefined) throw new Error("send: no link was opened yet");
    if (kind !== "consent" && kind !== "pain" && state.consent?.given !== true) return "not-sent";
    await queue.add({ id, kind, payload: { runnerId, input }, queuedAtMs: Date.now() });
    void flush();
    return "kept";
  };

  const lookAtRuns = async (): Promise<void> => {
    const runs = await allRuns(database);
    const queued = new Set(
      [...queue.state().waiting, ...queue.state().refused.map(({ write }) => write)].map(({ id }) => id),
    );
    const due = runs.filter(({ id, state: at }) => at === "ended" && !queued.has(id) && state.consent?.given === true);
    // A phone without room for the entry still has the run, and looks again at the next occasion.
    for (const run of due) await queue.add(queuedRun(run)).catch(() => undefined);
    set({ runs });
    void flush();
  };

  return {
    database,
    state: () => state,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    refresh,
    send,
    flush,
    dropWaiting: (id) => queue.drop(id),
    sendAgain: async (id) => {
      const refused = queue.state().refused.find(({ write }) => write.id === id);
      if (refused !== undefined) await queue.add(refused.write);
      await flush();
    },
    consent: async (given, location) => {
      const consent = { given, location, at: nowInstant() };
      await writeFact(database, "consent", consent);
      set({ consent, trouble: null });
      await send("consent", "consent", { body: { given, location, at: consent.at, textVersion: CONSENT_TEXT } });
      // What was set aside for want of consent may go now.
      if (!given) return;
      for (const { write } of queue.state().refused) await queue.add({ ...write, queuedAtMs: Date.now() });
      await lookAtRuns();
    },
    prefer: async (change) => {
      const preferences = { ...state.preferences, ...change };
      set({ preferences });
      await writeFact(database, "preferences", preferences);
    },
    learned: async (stepRateSpm) => {
      set({ learnedSpm: stepRateSpm });
      await writeFact(database, "learnedSpm", stepRateSpm);
    },
    answeredWeek: async (calfAchilles) => {
      if (state.today === undefined) return;
      const weekStartsOn = weekAt(state.today, phoneClock.nowMs());
      const before = state.weekAnswered?.weekStartsOn === weekStartsOn && state.weekAnswered.calfAchilles;
      const weekAnswered = { weekStartsOn, calfAchilles: calfAchilles || before };
      await writeFact(database, "weekAnswered", weekAnswered);
      set({ weekAnswered });
    },
    nowMs: () => phoneClock.nowMs(),
    lookAtRuns,
    forgetRun: async (runId) => {
      await queue.drop(runId);
      await removeRun(database, runId);
      await lookAtRuns();
    },
    wipe: async () => {
      useToken(undefined);
      database.close();
      await Promise.all([DATABASE_NAME, OUTBOX_NAME].map(deleteDatabase));
      if ("caches" in globalThis)
        for (const name of await caches.keys()) if (name.startsWith("spondee-pocket-")) await caches.delete(name);
      const registration = await navigator.serviceWorker?.getRegistration("/run/");
      await registration?.unregister();
    },
  };
}

function openQueue(
  storage: QueueStorage,
  send: Parameters<typeof createOfflineQueue>[0]["send"],
): Promise<OfflineQueue> {
  return createOfflineQueue({
    storage,
    send,
    exclusively: (work) =>
      navigator.locks === undefined ? work() : navigator.locks.request(OUTBOX_NAME, () => work()).then(() => undefined),
  });
}

function queuedRun(run: KeptRun): QueuedWrite {
  const input: Sendables["run"] = { runId: run.id, fileName: fileNameOf(run), surface: run.surface };
  return { id: run.id, kind: "run", payload: { runnerId: run.runnerId, input }, queuedAtMs: Date.now() };
}

function fileNameOf(run: KeptRun): string {
  return `run-${new Date(run.startedAtMs).toISOString().slice(0, 16).replace(":", "")}.jsonl`;
}

function deleteDatabase(name: string): Promise<void> {
  return new Promise((resolve) => {
    const request = indexedDB.deleteDatabase(name);
    request.onsuccess = () => resolve();
    request.onerror = () => resolve();
    // The outbox is still open in this page; it goes when the page does.
    request.onblocked = () => resolve();
  });
}
