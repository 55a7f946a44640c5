// A run on the phone: pieces of its file and a row that says how far it got, always changed together.
import type { Surface } from "../../engine/recordings/recording.ts";
import type { KeptRun, OpenCue, PocketDatabase } from "./database.ts";

const byteLength = (text: string): number => new TextEncoder().encode(text).length;
// Written through to the disk before it counts as kept.
const strict = { durability: "strict" } as const;

export interface NewRun {
  readonly id: string;
  readonly runnerId: string;
  readonly startedAtMs: number;
  readonly title: string;
  readonly surface: Surface;
  readonly sessionId?: string;
  readonly headerText: string;
}

/** Resolves when the run exists on the disk, with its first line. */
export async function beginRun(database: PocketDatabase, run: NewRun): Promise<KeptRun> {
  const { headerText, ...rest } = run;
  const row: KeptRun = {
    ...rest,
    state: "recording",
    pieceCount: 1,
    byteCount: byteLength(headerText),
    lastTimeMs: 0,
    motionCount: 0,
  };
  const transaction = database.transaction(["runs", "pieces"], "readwrite", strict);
  await Promise.all([
    transaction.objectStore("runs").add(row),
    transaction.objectStore("pieces").add({ runId: run.id, index: 0, text: headerText }),
    transaction.done,
  ]);
  return row;
}

export interface NewPiece {
  readonly text: string;
  readonly lastTimeMs: number;
  readonly motionCount?: number;
  readonly openCue?: OpenCue | undefined;
  readonly sessionS?: number | undefined;
  readonly end?: boolean;
}

/** Adds whole lines to a run; with `end`, nothing can be added afterwards. Throws when the run is not being recorded. */
export async function addPiece(database: PocketDatabase, runId: string, piece: NewPiece): Promise<KeptRun> {
  const transaction = database.transaction(["runs", "pieces"], "readwrite", strict);
  const runs = transaction.objectStore("runs");
  const before = await runs.get(runId);
  if (before?.state !== "recording") {
    transaction.abort();
    await transaction.done.catch(() => undefined);
    throw new RunNotOpenError(runId);
  }
  const { openCue: _cue, sessionS: _session, ...rest } = before;
  const row: KeptRun = {
    ...rest,
    ...(piece.openCue === undefined ? {} : { openCue: piece.openCue }),
    ...(piece.sessionS === undefined ? {} : { sessionS: piece.sessionS }),
    motionCount: before.motionCount + (piece.motionCount ?? 0),
    state: piece.end === true ? "ended" : "recording",
    pieceCount: before.pieceCount + 1,
    byteCount: before.byteCount + byteLength(piece.text),
    lastTimeMs: Math.max(before.lastTimeMs, piece.lastTimeMs),
  };
  await Promise.all([
    runs.put(row),
    transaction.objectStore("pieces").add({ runId, index: before.pieceCount, text: piece.text }),
    transaction.done,
  ]);
  return row;
}

export class RunNotOpenError extends Error {
  override name = "RunNotOpenError";
  constructor(runId: string) {
    super(`The run ${runId} is not being recorded.`);
  }
}

/** The file, byte for byte as it is sent. */
export async function fileOf(database: PocketDatabase, runId: string): Promise<Uint8Array<ArrayBuffer>> {
  const pieces = await database.getAll("pieces", IDBKeyRange.bound([runId, 0], [runId, Number.MAX_SAFE_INTEGER]));
  return new TextEncoder().encode(pieces.map((piece) => piece.text).join(""));
}

export async function markSent(database: PocketDatabase, runId: string, sentAtMs: number): Promise<void> {
  const transaction = database.transaction("runs", "readwrite", strict);
  const row = await transaction.store.get(runId);
  if (row !== undefined) await transaction.store.put({ ...row, state: "sent", sentAtMs });
  await transaction.done;
}

export async function removeRun(database: PocketDatabase, runId: string): Promise<void> {
  const transaction = database.transaction(["runs", "pieces"], "readwrite", strict);
  await Promise.all([
    transaction.objectStore("runs").delete(runId),
    transaction.objectStore("pieces").delete(IDBKeyRange.bound([runId, 0], [runId, Number.MAX_SAFE_INTEGER])),
    transaction.done,
  ]);
}

/** Newest first. */
export async function allRuns(database: PocketDatabase): Promise<readonly KeptRun[]> {
  const runs = await database.getAll("runs");
  return runs.sort((a, b) => b.startedAtMs - a.startedAtMs);
}
