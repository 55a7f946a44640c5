// A run on its way. A short one goes whole; a long one in parts, each safe at the server before the next, so that a bad line or
// a dead battery costs one part and not the run.
import type { CallInput } from "../../api/client.ts";

type Whole = CallInput<"PUT /api/runner/recordings/:recordingId">;

/** What the server offers, in the order it is asked. Each call rejects when it cannot be made now. */
export interface RunDoor {
  whole(bytes: Uint8Array<ArrayBuffer>, query: Whole["query"]): Promise<unknown>;
  arrived(): Promise<{ readonly receivedBytes: number; readonly isStored: boolean }>;
  part(startByte: number, bytes: Uint8Array<ArrayBuffer>): Promise<{ readonly receivedBytes: number }>;
  join(query: Whole["query"]): Promise<unknown>;
}

/** About a minute and a half of a run; ten seconds on a line of 100 kbit/s. */
export const PART_BYTES = 128 * 1024;

/** Resolves when the server has the whole run. */
export async function sendRunBytes(
  door: RunDoor,
  bytes: Uint8Array<ArrayBuffer>,
  query: Whole["query"],
): Promise<void> {
  if (bytes.length <= PART_BYTES) {
    await door.whole(bytes, query);
    return;
  }
  const { receivedBytes, isStored } = await door.arrived();
  // Stored already: joining only says so again, with the server's own check of the bytes.
  let sentBytes = isStored ? bytes.length : receivedBytes;
  while (sentBytes < bytes.length) {
    const next = (await door.part(sentBytes, bytes.subarray(sentBytes, sentBytes + PART_BYTES))).receivedBytes;
    if (next <= sentBytes) throw new NoProgressError();
    sentBytes = next;
  }
  await door.join(query);
}

/** The server keeps no part: somebody else sends the same run, or it was stored meanwhile. Asked again later. */
export class NoProgressError extends Error {
  override name = "NoProgressError";
  constructor() {
    super("The server kept no part of the run.");
  }
}
