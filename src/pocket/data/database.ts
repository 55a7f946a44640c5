// Everything the phone keeps: who it belongs to, the last answer of the server, and runs in small pieces.
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Surface } from "../../engine/recordings/recording.ts";

export interface OpenCue {
  readonly startMs: number;
  readonly cue: "on" | "off";
  readonly targetSpm?: number;
}

export interface KeptRun {
  readonly id: string;
  /** Whose link was open when it was recorded; a run is never sent through another runner's link. */
  readonly runnerId: string;
  readonly startedAtMs: number;
  readonly title: string;
  readonly surface: Surface;
  readonly sessionId?: string;
  /** `recording`: pieces are still added. `ended`: complete, to be sent. `sent`: the coach's server has it. */
  readonly state: "recording" | "ended" | "sent";
  readonly pieceCount: number;
  readonly byteCount: number;
  /** Milliseconds since startedAtMs of the last thing written. */
  readonly lastTimeMs: number;
  readonly motionCount: number;
  /** The stretch of beat on or off that had begun and not ended; its line is written when it is over. */
  readonly openCue?: OpenCue;
  /** Seconds into the session, to go on from. */
  readonly sessionS?: number;
  readonly sentAtMs?: number;
}

export interface Piece {
  readonly runId: string;
  readonly index: number;
  /** Whole lines of the recording's file. */
  readonly text: string;
}

export interface PocketSchema extends DBSchema {
  facts: { key: string; value: unknown };
  runs: { key: string; value: KeptRun };
  pieces: { key: [string, number]; value: Piece };
}

export type PocketDatabase = IDBPDatabase<PocketSchema>;

export const DATABASE_NAME = "spondee-pocket";

export function openPocketDatabase(): Promise<PocketDatabase> {
  return openDB<PocketSchema>(DATABASE_NAME, 1, {
    upgrade(database) {
      database.createObjectStore("facts");
      database.createObjectStore("runs", { keyPath: "id" });
      database.createObjectStore("pieces", { keyPath: ["runId", "index"] });
    },
    // Another tab wants a newer version: make room instead of blocking it.
    blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
  });
}
