// Collects what the sensors say and writes it down every couple of seconds, whole lines at a time: whatever ends the page, what
// was written stays.
import {
  phoneEndLine,
  phoneMotionLine,
  phonePositionLine,
  type PhonePosition,
} from "../../engine/recordings/phone-recording-lines.ts";
import type { MotionSample } from "../../ui/motion/motion-source.ts";
import type { OpenCue } from "../data/database.ts";
import type { NewPiece } from "../data/runs.ts";
import { cueLineOf } from "./cue-line.ts";

export const WRITE_EVERY_MS = 2000;
/** With fewer there was no sensor, or no time: nothing to keep or send. */
export const LEAST_SAMPLES = 2;

export interface RecorderDeps {
  /** Resolves when the piece is safe. */
  readonly write: (piece: NewPiece) => Promise<unknown>;
  /** The page's clock (performance.now) at the recording's time 0. */
  readonly zeroMs: number;
  readonly nowMs: () => number;
  /** From before the page was closed, when a run goes on. */
  readonly cutCue?: OpenCue | undefined;
  readonly cutAtMs?: number;
}

export interface Recorder {
  readonly motion: (sample: MotionSample) => void;
  /** timeMs on the page's clock. */
  readonly position: (position: PhonePosition) => void;
  /** The beat is on or off from this time of the page's clock on; undefined while neither is meant. */
  cue(cue: Omit<OpenCue, "startMs"> | undefined, fromMs: number): void;
  /** Where the session is, to go on from after a cut. */
  at(sessionS: number | undefined): void;
  /** Writes what has come; on failure keeps it for the next time and rejects. */
  write(): Promise<void>;
  /** Writes the last lines. After it nothing is taken. */
  end(): Promise<void>;
  readonly motionCount: number;
}

export function createRecorder(deps: RecorderDeps): Recorder {
  const { zeroMs, nowMs } = deps;
  let timeMs: number[] = [];
  let x: number[] = [];
  let y: number[] = [];
  let z: number[] = [];
  let lines = deps.cutCue === undefined ? "" : cueLineOf(deps.cutCue, deps.cutAtMs ?? deps.cutCue.startMs);
  let openCue: OpenCue | undefined;
  let sessionS: number | undefined;
  /** No stretch begins before this: before the last one ended, a pause was over, or the run went on after a cut. */
  let cueFloorMs = nowMs() - zeroMs;
  let motionCount = 0;
  let ended = false;
  let pending: NewPiece | undefined;
  let writing: Promise<void> = Promise.resolve();

  /** Everything since the last time, joined to what could not be written then. */
  const gather = (end: boolean): NewPiece | undefined => {
    const count = timeMs.length;
    const atMs = nowMs() - zeroMs;
    const motion = count === 0 ? "" : phoneMotionLine({ timeMs, xMps2: x, yMps2: y, zMps2: z });
    const last = end ? cueLineOf(openCue, atMs) + phoneEndLine(Math.round(atMs)) : "";
    const text = (pending?.text ?? "") + motion + lines + last;
    if (text === "" && !end) return undefined;
    [timeMs, x, y, z] = [[], [], [], []];
    lines = "";
    return {
      text,
      lastTimeMs: Math.round(atMs),
      motionCount: count + (pending?.motionCount ?? 0),
      openCue: end ? undefined : openCue,
      sessionS,
      ...(end ? { end: true } : {}),
    };
  };
  const writeOnce = async (end: boolean): Promise<void> => {
    const piece = gather(end);
    if (piece === undefined) return;
    try {
      await deps.write(piece);
      pending = undefined;
    } catch (error) {
      // Without the end line: it is made anew when there is room.
      pending = end ? { ...piece, text: piece.text.slice(0, piece.text.lastIndexOf('{"kind":"end"')) } : piece;
      if (end) openCue = undefined;
      throw error;
    }
  };
  /** One after the other: two pieces never overtake each other. */
  const queue = (end: boolean): Promise<void> => {
    const turn = writing.then(() => writeOnce(end));
    writing = turn.catch(() => undefined);
    return turn;
  };

  return {
    motion: (sample) => {
      if (ended) return;
      timeMs.push(sample.timeMs - zeroMs);
      x.push(sample.xMps2);
      y.push(sample.yMps2);
      z.push(sample.zMps2);
      motionCount += 1;
    },
    position: (position) => {
      if (!ended) lines += phonePositionLine({ ...position, timeMs: Math.round(position.timeMs - zeroMs) });
    },
    cue: (cue, fromMs) => {
      if (ended) return;
      const atMs = Math.max(cueFloorMs, fromMs - zeroMs);
      cueFloorMs = atMs;
      lines += cueLineOf(openCue, atMs);
      openCue = cue === undefined ? undefined : { ...cue, startMs: atMs };
    },
    at: (next) => {
      sessionS = next;
    },
    write: () => (ended ? writing : queue(false)),
    end: async () => {
      ended = true;
      await queue(true);
    },
    get motionCount() {
      return motionCount;
    },
  };
}
