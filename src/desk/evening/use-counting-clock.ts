// The clock everyone hears: three pips, a start tone, so many seconds, two stop tones; all set on the audio clock beforehand.
import { useCallback, useEffect, useRef, useState } from "react";
import { playTone } from "../../ui/audio/sounds.ts";

export type ClockPhase = "idle" | "ready" | "running" | "done";

export interface CountingClock {
  readonly phase: ClockPhase;
  /** Seconds since the start tone; before it, minus the seconds to go. */
  readonly elapsedS: number;
  readonly silent: boolean;
  readonly start: () => void;
  readonly stop: () => void;
}

/** Time for hands to come free, told by a pip a second. */
const LEAD_IN_S = 3;
const PIP = { lengthS: 0.09, frequencyHz: 880, gain: 0.25 };
const START = { lengthS: 0.45, frequencyHz: 1320, gain: 0.6 };
const STOP = { lengthS: 0.35, frequencyHz: 990, gain: 0.6 };
/** Far enough ahead that the first pip is never cut. */
const HEAD_START_S = 0.15;

let shared: AudioContext | undefined;

/** One context for the page: browsers allow few, and only after a tap. */
export function audioContext(): AudioContext {
  shared ??= new AudioContext({ latencyHint: "interactive" });
  void shared.resume();
  return shared;
}

/** Counts `lengthS` seconds, or without an end when it is undefined (a stopwatch). `onDone` is called once at the end. */
export function useCountingClock(lengthS: number | undefined, onDone: () => void): CountingClock {
  const [phase, setPhase] = useState<ClockPhase>("idle");
  const [elapsedS, setElapsed] = useState(0);
  const [silent, setSilent] = useState(false);
  const run = useRef<{ zeroS: number; silence: (() => void)[]; context: AudioContext } | undefined>(undefined);
  const frame = useRef(0);
  const done = useRef(onDone);
  useEffect(() => {
    done.current = onDone;
  }, [onDone]);

  const end = useCallback((next: ClockPhase) => {
    cancelAnimationFrame(frame.current);
    run.current = undefined;
    setPhase(next);
  }, []);

  const start = useCallback(() => {
    const context = audioContext();
    const zeroS = context.currentTime + HEAD_START_S + LEAD_IN_S;
    const silence: (() => void)[] = [];
    for (let pip = LEAD_IN_S; pip >= 1; pip -= 1) silence.push(playTone(context, { ...PIP, atS: zeroS - pip }));
    silence.push(playTone(context, { ...START, atS: zeroS }));
    if (lengthS !== undefined)
      for (const gapS of [0, 0.5]) silence.push(playTone(context, { ...STOP, atS: zeroS + lengthS + gapS }));
    run.current = { zeroS, silence, context };
    setPhase("ready");
    setElapsed(-LEAD_IN_S);
    const startedAtMs = performance.now();
    const tick = (): void => {
      const current = run.current;
      if (!current) return;
      const now = current.context.currentTime - current.zeroS;
      // An audio clock that stands still means that the browser plays nothing.
      setSilent(performance.now() - startedAtMs > 700 && current.context.state !== "running");
      setElapsed(now);
      if (now >= 0) setPhase("running");
      if (lengthS !== undefined && now >= lengthS) {
        setElapsed(lengthS);
        end("done");
        done.current();
        return;
      }
      frame.current = requestAnimationFrame(tick);
    };
    cancelAnimationFrame(frame.current);
    frame.current = requestAnimationFrame(tick);
  }, [lengthS, end]);

  const stop = useCallback(() => {
    const current = run.current;
    if (!current) return;
    for (const quiet of current.silence) quiet();
    const wasStopwatch = lengthS === undefined && current.context.currentTime > current.zeroS;
    end(wasStopwatch ? "done" : "idle");
    if (wasStopwatch) done.current();
  }, [end, lengthS]);

  useEffect(
    () => () => {
      cancelAnimationFrame(frame.current);
      for (const quiet of run.current?.silence ?? []) quiet();
    },
    [],
  );
  return { phase, elapsedS, silent, start, stop };
}
