// A finished run in a phone's own memory, as if it had been recorded there: motion, positions and the beat, all invented. The
// page finds it when it is opened next, and sends it by itself.
import type { Page } from "playwright-core";
import {
  phoneCueLine,
  phoneEndLine,
  phoneHeaderLine,
  phoneMotionLine,
  phonePositionLine,
} from "../../src/engine/recordings/phone-recording-lines.ts";
import { makeSyntheticMotion } from "../../src/engine/synthetic/synthetic-motion.ts";
import { inventTrack } from "../../src/engine/synthetic/tracks.ts";

export interface PhoneRun {
  readonly startedAt: string;
  readonly minutes: number;
  readonly stepRateSpm: number;
  readonly speedMps: number;
  /** The beat that played throughout; absent: none. */
  readonly beatSpm?: number;
  readonly seed: number;
}

function inventPhoneRun(run: PhoneRun): string {
  const durationS = 60 * run.minutes;
  const { recording } = makeSyntheticMotion({
    seed: run.seed,
    placement: "waist",
    sampleRateHz: 50,
    segments: [{ state: "running", durationS, stepRateSpm: run.stepRateSpm }],
  });
  const { recording: track } = inventTrack({
    seed: run.seed,
    legs: [{ durationS, speedMps: run.speedMps, stepRateSpm: run.stepRateSpm, turnRadPerS: run.speedMps / 60 }],
    noise: { whiteM: 0.5, wanderM: 1.5 },
  });
  const motion = phoneMotionLine({
    timeMs: recording.timeS.map((timeS) => timeS * 1000),
    xMps2: recording.accelXMps2,
    yMps2: recording.accelYMps2,
    zMps2: recording.accelZMps2,
  });
  const positions = Array.from(track.timeS, (timeS, index) =>
    phonePositionLine({
      timeMs: timeS * 1000,
      latitudeDeg: track.latitudeDeg[index]!,
      longitudeDeg: track.longitudeDeg[index]!,
      elevationM: null,
      accuracyM: 4,
    }),
  );
  const cue =
    run.beatSpm === undefined ? "" : phoneCueLine({ startS: 0, endS: durationS, cue: "on", targetSpm: run.beatSpm });
  const header = phoneHeaderLine({
    startedAtMs: Date.parse(run.startedAt),
    surface: "outdoor",
    gravity: "included",
  });
  return header + motion + positions.join("") + cue + phoneEndLine(1000 * durationS);
}

/** The page must have been open once; reload it to have the run sent. */
export async function putRunOnPhone(page: Page, runnerId: string, run: PhoneRun): Promise<void> {
  const text = inventPhoneRun(run);
  const row = {
    id: crypto.randomUUID(),
    runnerId,
    startedAtMs: Date.parse(run.startedAt),
    title: "A run (invented)",
    surface: "outdoor",
    state: "ended",
    pieceCount: 1,
    byteCount: Buffer.byteLength(text),
    lastTimeMs: 60_000 * run.minutes,
    motionCount: 3000 * run.minutes,
  };
  await page.evaluate(
    async ({ row, text }) => {
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open("spondee-pocket");
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(new Error("no database"));
      });
      const transaction = database.transaction(["runs", "pieces"], "readwrite");
      transaction.objectStore("runs").add(row);
      transaction.objectStore("pieces").add({ runId: row.id, index: 0, text });
      await new Promise<void>((resolve, reject) => {
        transaction.oncomplete = () => resolve();
        transaction.onabort = () => reject(new Error("not kept"));
      });
      database.close();
    },
    { row, text },
  );
}
