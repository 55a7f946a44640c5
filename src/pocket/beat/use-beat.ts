// A beat that a screen plays: started by a tap, gone with the screen.
import { useCallback, useEffect, useRef, useState } from "react";
import type { ClickId } from "../../engine/beat/clicks.ts";
import { createBeatSchedule, SESSION_TRACK } from "../../engine/beat/create-schedule.ts";
import type { SteadyBeat } from "../../engine/beat/schedule.ts";
import { describeProblem } from "../../engine/quantities/problem.ts";
import type { Session } from "../../engine/session/session.ts";
import { type LiveBeat, playLiveBeat } from "../../ui/audio/live-beat.ts";
import { openOutput, type PlayerOutput } from "../../ui/audio/player-output.ts";
import { startAudio } from "../app/audio.ts";
import type { Preferences } from "../data/preferences.ts";

export interface Playing {
  readonly audio: AudioContext;
  readonly beat: LiveBeat;
  readonly output: PlayerOutput;
}

export interface BeatHandle {
  readonly playing: Playing | undefined;
  readonly problem: string | undefined;
  readonly paused: boolean;
  start(
    source: Session | SteadyBeat,
    options: { readonly title: string; readonly fromS?: number },
  ): Promise<Playing | undefined>;
  pause(): void;
  resume(): void;
  readonly setVolume: (share: number) => void;
  readonly setClick: (click: ClickId) => void;
  readonly stop: () => void;
}

export function useBeat(preferences: Preferences): BeatHandle {
  const [playing, setPlaying] = useState<Playing>();
  const [problem, setProblem] = useState<string>();
  const [paused, setPaused] = useState(false);
  const current = useRef<Playing | undefined>(undefined);

  const stop = useCallback(() => {
    current.current?.beat.stop();
    current.current?.output.close();
    current.current = undefined;
    setPlaying(undefined);
  }, []);
  useEffect(() => stop, [stop]);

  const pause = useCallback(() => {
    void current.current?.audio.suspend();
    current.current?.output.setPlaying(false);
    setPaused(true);
  }, []);
  const resume = useCallback(() => {
    void current.current?.audio.resume();
    current.current?.output.setPlaying(true);
    setPaused(false);
  }, []);

  const start: BeatHandle["start"] = async (source, options) => {
    stop();
    const audio = await startAudio();
    const announced = "blocks" in source ? SESSION_TRACK : { countInBeats: 0 };
    const schedule = createBeatSchedule(source, { ...announced, sampleRateHz: audio.sampleRate });
    if (!schedule.ok) {
      setProblem(schedule.problems.map(describeProblem).join(" "));
      return undefined;
    }
    const output = openOutput(audio, preferences);
    output.announce(options.title, { play: resume, pause });
    const beat = playLiveBeat(audio, schedule.value, {
      click: preferences.click,
      output: output.input,
      ...(options.fromS === undefined ? {} : { fromS: options.fromS }),
    });
    output.setPlaying(true);
    const next = { audio, beat, output };
    current.current = next;
    setPaused(false);
    setPlaying(next);
    return next;
  };

  return {
    playing,
    problem,
    paused,
    start,
    pause,
    resume,
    setVolume: (share) => current.current?.output.setVolume(share),
    setClick: (click) => current.current?.beat.setClick(click),
    stop,
  };
}
