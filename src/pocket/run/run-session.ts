// A run while it happens: sensors in, pieces written, a picture of the moment out twice a second.
import { createLiveSteps } from "../../engine/steps/live-steps.ts";
import type { LiveReading } from "../../engine/steps/live-reading.ts";
import { phoneHeaderLine } from "../../engine/recordings/phone-recording-lines.ts";
import { listenToMotion } from "../../ui/motion/motion-source.ts";
import { heardNowS } from "../app/audio.ts";
import { isFullError } from "../app/make-room.tsx";
import type { Playing } from "../beat/use-beat.ts";
import { makeId } from "../data/client.ts";
import type { KeptRun, PocketDatabase } from "../data/database.ts";
import { addPiece, beginRun, removeRun, RunNotOpenError } from "../data/runs.ts";
import { type Feedback, feedbackFor, settle, UNSETTLED } from "./feedback.ts";
import { createLiveSpeed } from "./live-speed.ts";
import { createRecorder, LEAST_SAMPLES, WRITE_EVERY_MS } from "./recorder.ts";
import { cueAt, momentAt, type SessionMoment } from "./session-clock.ts";

export interface RunMoment {
  readonly steps: LiveReading;
  readonly speedMps: number | null;
  readonly feedback: Feedback | undefined;
  /** Undefined when there is no session. */
  readonly session: SessionMoment | undefined;
  /** Since the start, interruptions included. */
  readonly elapsedS: number;
  readonly hasMotion: boolean;
  readonly writeProblem: "full" | "closed" | "failed" | undefined;
}

export interface RunSessionOptions {
  readonly database: PocketDatabase;
  readonly runnerId: string;
  readonly title: string;
  readonly sessionId?: string;
  readonly surface: "outdoor" | "treadmill" | "unknown";
  readonly withLocation: boolean;
  readonly targetSpeedMps: number | null;
  /** A run that was cut off and goes on. */
  readonly resume?: KeptRun;
  readonly playing: () => Playing | undefined;
  readonly tell: (moment: RunMoment) => void;
}

export interface RunSession {
  readonly runId: string;
  pause(): void;
  resume(): void;
  /** Resolves when the last line is safe; the run's id, or undefined when nothing was recorded. */
  finish(): Promise<string | undefined>;
  /** Leaves the run as it is, cut off. */
  leave(): void;
}

const TELL_EVERY_MS = 500;

export async function startRunSession(options: RunSessionOptions): Promise<RunSession> {
  const { database, resume } = options;
  const run = resume ?? (await begin(options));
  // A clock that was set back, or a run from another day, must not make time go backwards in the file.
  const sinceMs = resume === undefined ? 0 : Math.max(resume.lastTimeMs + 1000, Date.now() - run.startedAtMs);
  const zeroMs = performance.now() - sinceMs;
  const recorder = createRecorder({
    write: (piece) => addPiece(database, run.id, piece),
    zeroMs,
    nowMs: () => performance.now(),
    ...(resume === undefined ? {} : { cutCue: resume.openCue, cutAtMs: resume.lastTimeMs }),
  });
  const steps = createLiveSteps();
  const speed = createLiveSpeed();
  let settled = UNSETTLED;
  let paused = false;
  let writeProblem: RunMoment["writeProblem"];
  let cueKey = "";

  const stopMotion = listenToMotion((sample) => {
    recorder.motion(sample);
    steps.push(sample.timeMs / 1000, sample.xMps2, sample.yMps2, sample.zMps2);
  });
  const stopPositions = options.withLocation ? watchPositions(recorder.position, speed.push) : () => undefined;

  const markCue = (): void => {
    const playing = options.playing();
    if (playing === undefined || paused) return;
    const { audio, beat } = playing;
    const atS = beat.positionAt(heardNowS(audio));
    recorder.at(atS);
    const cue = cueAt(beat.schedule(), atS);
    const key = cue === undefined ? "" : `${cue.cue} ${cue.targetSpm ?? ""} ${cue.startS}`;
    if (key === cueKey) return;
    cueKey = key;
    const fromMs = performance.now() - 1000 * (atS - (cue?.startS ?? atS));
    if (cue === undefined) recorder.cue(undefined, performance.now());
    else recorder.cue({ cue: cue.cue, ...(cue.targetSpm === undefined ? {} : { targetSpm: cue.targetSpm }) }, fromMs);
  };
  const tell = (): void => {
    markCue();
    const nowS = performance.now() / 1000;
    const reading = steps.read();
    const speedMps = speed.at(nowS);
    const playing = options.playing();
    const session =
      playing === undefined
        ? undefined
        : momentAt(playing.beat.schedule(), playing.beat.positionAt(heardNowS(playing.audio)));
    const { targetSpeedMps } = options;
    const fresh = reading.updatedAtS !== null && nowS - reading.updatedAtS < 3;
    const facts =
      fresh && !paused && reading.state === "running" && reading.stepRateSpm !== null && session?.beatSpm !== undefined
        ? { stepRateSpm: reading.stepRateSpm, targetSpm: session.beatSpm, speedMps, targetSpeedMps }
        : undefined;
    settled = settle(settled, facts === undefined ? undefined : feedbackFor(facts), nowS);
    options.tell({
      steps: fresh ? reading : { ...reading, stepRateSpm: null, state: "unknown" },
      speedMps,
      feedback: settled.shown,
      session,
      elapsedS: (performance.now() - zeroMs) / 1000,
      hasMotion: recorder.motionCount > 0,
      writeProblem,
    });
  };
  const write = async (): Promise<void> => {
    try {
      await recorder.write();
      writeProblem = undefined;
    } catch (error) {
      writeProblem = isFullError(error) ? "full" : error instanceof RunNotOpenError ? "closed" : "failed";
    }
  };
  const telling = setInterval(tell, TELL_EVERY_MS);
  const writing = setInterval(() => void write(), WRITE_EVERY_MS);
  // The last chance that a phone gives before it freezes or drops the page.
  const onHide = (): void => void write();
  document.addEventListener("visibilitychange", onHide);
  addEventListener("pagehide", onHide);
  const stop = (): void => {
    clearInterval(telling);
    clearInterval(writing);
    document.removeEventListener("visibilitychange", onHide);
    removeEventListener("pagehide", onHide);
    stopMotion();
    stopPositions();
  };
  tell();

  return {
    runId: run.id,
    pause: () => {
      paused = true;
      cueKey = "paused";
      recorder.cue(undefined, performance.now());
    },
    resume: () => {
      // The pause belongs to no stretch.
      recorder.cue(undefined, performance.now());
      paused = false;
    },
    finish: async () => {
      stop();
      const before = await database.get("runs", run.id);
      if ((before?.motionCount ?? 0) + recorder.motionCount < LEAST_SAMPLES) {
        // No sensor: there is nothing to send.
        await removeRun(database, run.id);
        return undefined;
      }
      await recorder.end();
      return run.id;
    },
    leave: () => {
      stop();
      void write();
    },
  };
}

function begin(options: RunSessionOptions): Promise<KeptRun> {
  const startedAtMs = Date.now();
  return beginRun(options.database, {
    id: makeId(),
    runnerId: options.runnerId,
    startedAtMs,
    title: options.title,
    surface: options.surface,
    ...(options.sessionId === undefined ? {} : { sessionId: options.sessionId }),
    headerText: phoneHeaderLine({ startedAtMs, surface: options.surface, gravity: "included" }),
  });
}

function watchPositions(
  record: ReturnType<typeof createRecorder>["position"],
  push: ReturnType<typeof createLiveSpeed>["push"],
): () => void {
  const watch = navigator.geolocation.watchPosition(
    ({ coords, timestamp }) => {
      // Told a little after it was true; a wall clock that jumps is not followed.
      const lateMs = Math.min(5000, Math.max(0, Date.now() - timestamp));
      const timeMs = performance.now() - lateMs;
      const { latitude: latitudeDeg, longitude: longitudeDeg, accuracy: accuracyM, altitude, speed } = coords;
      record({ timeMs, latitudeDeg, longitudeDeg, elevationM: altitude, accuracyM });
      push({ timeS: timeMs / 1000, latitudeDeg, longitudeDeg, accuracyM, speedMps: speed });
    },
    // Refused or no sky: the steps are counted all the same.
    () => undefined,
    { enableHighAccuracy: true, maximumAge: 0 },
  );
  return () => navigator.geolocation.clearWatch(watch);
}
