// What waits to be sent. Each entry names its runner: nothing goes out through somebody else's link.
import { ApiError, type CallInput } from "../../api/client.ts";
import type { QueuedWrite, SendOutcome } from "../../ui/offline/queue.ts";
import { api } from "./client.ts";
import type { PocketDatabase } from "./database.ts";
import { fileOf, markSent } from "./runs.ts";
import { type RunDoor, sendRunBytes } from "./send-run.ts";

export interface Sendables {
  readonly consent: CallInput<"PUT /api/runner/consent">;
  readonly count: CallInput<"PUT /api/runner/counts/:countId">;
  readonly report: CallInput<"PUT /api/runner/reports/:entryId">;
  readonly pain: CallInput<"PUT /api/runner/pain/:entryId">;
  readonly run: {
    readonly runId: string;
    readonly fileName: string;
    readonly surface: "outdoor" | "treadmill" | "unknown";
  };
}

export type Sendable = keyof Sendables;

export interface Envelope<Kind extends Sendable = Sendable> {
  readonly runnerId: string;
  readonly input: Sendables[Kind];
}

/** What the server said about the link itself, apart from any one entry. */
export type LinkTrouble = "link-ended" | "consent-needed" | null;

export interface SenderDeps {
  readonly database: PocketDatabase;
  /** Whose link is open now; undefined while that is not known. */
  readonly runnerId: () => string | undefined;
  readonly onTrouble: (trouble: LinkTrouble) => void;
}

/** A network that swallows everything must not hold up what waits behind. */
const soon = (): AbortSignal => AbortSignal.timeout(60_000);

export function createSender(deps: SenderDeps): (write: QueuedWrite) => Promise<SendOutcome> {
  return async (write) => {
    const envelope = write.payload as Envelope;
    const runnerId = deps.runnerId();
    if (runnerId === undefined) return { kind: "later" };
    if (envelope.runnerId !== runnerId)
      return { kind: "refused", because: "This belongs to the link that was open before. Open that link to send it." };
    try {
      await sendOne(deps.database, write.kind as Sendable, envelope.input);
      deps.onTrouble(null);
      return { kind: "stored" };
    } catch (error) {
      return judge(error, deps.onTrouble);
    }
  };
}

async function sendOne(database: PocketDatabase, kind: Sendable, input: Sendables[Sendable]): Promise<void> {
  switch (kind) {
    case "consent":
      await api.call("PUT /api/runner/consent", { ...(input as Sendables["consent"]), signal: soon() });
      return;
    case "count":
      await api.call("PUT /api/runner/counts/:countId", { ...(input as Sendables["count"]), signal: soon() });
      return;
    case "report":
      await api.call("PUT /api/runner/reports/:entryId", { ...(input as Sendables["report"]), signal: soon() });
      return;
    case "pain":
      await api.call("PUT /api/runner/pain/:entryId", { ...(input as Sendables["pain"]), signal: soon() });
      return;
    case "run":
      await sendRun(database, input as Sendables["run"]);
  }
}

async function sendRun(database: PocketDatabase, run: Sendables["run"]): Promise<void> {
  const bytes = await fileOf(database, run.runId);
  const sha256 = await sha256Of(bytes);
  await sendRunBytes(doorOf(run.runId), bytes, {
    fileName: run.fileName,
    surface: run.surface,
    ...(sha256 === undefined ? {} : { sha256 }),
  });
  await markSent(database, run.runId, Date.now());
}

function doorOf(recordingId: string): RunDoor {
  const params = { recordingId };
  return {
    whole: (bytes, query) =>
      api.call("PUT /api/runner/recordings/:recordingId", { params, query, file: new Blob([bytes]), signal: soon() }),
    arrived: () => api.call("GET /api/runner/recordings/:recordingId/parts", { params, signal: soon() }),
    part: (startByte, bytes) =>
      api.call("PUT /api/runner/recordings/:recordingId/parts/:startByte", {
        params: { recordingId, startByte },
        file: new Blob([bytes]),
        signal: soon(),
      }),
    join: (query) => api.call("POST /api/runner/recordings/:recordingId/join", { params, query, signal: soon() }),
  };
}

/** Undefined where the browser offers no digest, which is outside a secure context. */
async function sha256Of(bytes: Uint8Array<ArrayBuffer>): Promise<string | undefined> {
  if (globalThis.crypto?.subtle === undefined) return undefined;
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Refused as it came, not for what it is: sent again, it is taken. */
const AGAIN: ReadonlySet<string> = new Set(["damaged-on-the-way", "no-parts", "conflict"]);

function judge(error: unknown, onTrouble: (trouble: LinkTrouble) => void): SendOutcome {
  if (!(error instanceof ApiError)) return { kind: "later" };
  const { status, code, detail, problems } = error.problem;
  if (status === 401) {
    onTrouble("link-ended");
    return { kind: "later" };
  }
  if (code === "consent-needed") {
    onTrouble("consent-needed");
    // Set aside, so that a report of pain behind it still goes out; asked for again once consent is given.
    return { kind: "refused", because: "You have not agreed to sending, or took it back." };
  }
  // Not there, busy, in trouble, or damaged on the way: not the entry's fault.
  if (status === 0 || status === 408 || status === 429 || status >= 500 || AGAIN.has(code)) return { kind: "later" };
  const sentences = (problems ?? []).map((problem) => `${problem.got}: ${problem.remedy}`);
  return { kind: "refused", because: [detail ?? error.message, ...sentences.slice(0, 2)].join(" ") };
}
