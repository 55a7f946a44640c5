// The screen at arm's length: one number, one word, one shape.
import { useEffect, useRef, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { readAbilities } from "../app/abilities.ts";
import { isFullError } from "../app/make-room.tsx";
import { exactRateValue } from "../app/exact-rate.ts";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { BeatControl, Nudge } from "../beat/beat-control.tsx";
import { Pulse } from "../beat/pulse.tsx";
import { useBeat } from "../beat/use-beat.ts";
import { engineSession, sessionOf } from "../today/session-words.ts";
import { LOW_BATTERY_SHARE, useBattery } from "./battery.ts";
import { keepAwake } from "./keep-awake.ts";
import { nextRun } from "./next-run.ts";
import { RunFace } from "./run-face.tsx";
import { RunFailed, type RunFailure } from "./run-failed.tsx";
import { RunTrouble } from "./run-trouble.tsx";
import { type RunMoment, type RunSession, startRunSession } from "./run-session.ts";

export interface RunScreenProps {
  readonly sessionId?: string;
  readonly resumeRunId?: string;
}

export function RunScreen({ sessionId, resumeRunId }: RunScreenProps) {
  const { phone, go } = useFrame();
  const { today, consent, preferences } = usePhone();
  const format = useFormat();
  const beat = useBeat(preferences);
  const battery = useBattery();
  const [moment, setMoment] = useState<RunMoment>();
  const [paused, setPaused] = useState(false);
  const [awake, setAwake] = useState(true);
  const [failed, setFailed] = useState<RunFailure>();
  const session = useRef<RunSession | undefined>(undefined);
  const playing = useRef(beat.playing);
  useEffect(() => {
    playing.current = beat.playing;
  }, [beat.playing]);

  const gone = useRef(false);
  const record = async (): Promise<void> => {
    if (today === undefined || session.current !== undefined) return;
    const planned = sessionOf(today, sessionId);
    const kept = resumeRunId === undefined ? undefined : await phone.database.get("runs", resumeRunId);
    const title = kept?.title ?? planned?.session.title ?? "Run";
    // Beat first: the recorder asks it where the session is.
    if (planned !== undefined && playing.current === undefined)
      playing.current = await beat.start(engineSession(planned), {
        title,
        ...(kept?.sessionS === undefined ? {} : { fromS: kept.sessionS }),
      });
    const { surface } = kept ?? nextRun();
    const started = await startRunSession({
      database: phone.database,
      runnerId: today.runnerId,
      title,
      ...(sessionId === undefined ? {} : { sessionId }),
      surface,
      withLocation: surface !== "treadmill" && consent?.location === true && readAbilities().location,
      targetSpeedMps: today.targetSpeedMps,
      ...(kept?.state === "recording" ? { resume: kept } : {}),
      playing: () => playing.current,
      tell: setMoment,
    });
    if (gone.current) started.leave();
    else session.current = started;
  };
  const startRecording = (): void => {
    record().then(
      () => setFailed(undefined),
      (error: unknown) => setFailed({ at: "start", isFull: isFullError(error) }),
    );
  };
  useEffect(() => {
    const lock = keepAwake(setAwake);
    gone.current = false;
    startRecording();
    return () => {
      gone.current = true;
      lock.release();
      session.current?.leave();
    };
    // Once: what is run does not change under the runner.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, []);

  const pause = (): void => {
    session.current?.pause();
    beat.pause();
    setPaused(true);
  };
  const resume = (): void => {
    beat.resume();
    session.current?.resume();
    setPaused(false);
  };
  const finish = async (): Promise<void> => {
    const ending = session.current;
    if (ending === undefined) {
      // Nothing was recorded: only the beat was heard.
      beat.stop();
      go({ name: "after" }, true);
      return;
    }
    try {
      const runId = await ending.finish();
      session.current = undefined;
      beat.stop();
      await phone.lookAtRuns();
      go({ name: "after", ...(runId === undefined ? {} : { runId }) }, true);
    } catch (error) {
      setFailed({ at: "end", isFull: isFullError(error) });
    }
  };
  const cap = today?.capSpm ?? undefined;
  const beatSpm = moment?.session?.beatSpm;
  return (
    <main className="run">
      <h1 className="visually-hidden" tabIndex={-1}>
        Running
      </h1>
      {moment === undefined ? null : <RunFace moment={moment} paused={paused} />}
      {beat.playing === undefined ? null : (
        <Pulse
          audio={beat.playing.audio}
          beat={beat.playing.beat}
          vibrate={preferences.vibrate && (battery ?? 1) >= LOW_BATTERY_SHARE}
          still={paused || (battery ?? 1) < LOW_BATTERY_SHARE}
        />
      )}
      {moment === undefined ? null : (
        <RunTrouble moment={moment} beatProblem={beat.problem} awake={awake} sensors={nextRun().sensors} />
      )}
      <RunFailed failure={failed} onRecord={startRecording} />
      {paused ? (
        <div className="stack">
          <p>Paused. If something hurts, finish here: do not run on to see whether it goes.</p>
          <Button kind="go" big onClick={resume}>
            Go on
          </Button>
          <Button big onClick={() => void finish()}>
            Finish
          </Button>
          <BeatControl onVolume={beat.setVolume} onClick={beat.setClick} />
        </div>
      ) : (
        <div className="stack">
          {beatSpm === undefined ? null : (
            <Nudge
              rateWords={`beat ${exactRateValue(format, beatSpm)}`}
              canRaise={cap === undefined || beatSpm + 1 <= cap}
              onNudge={(delta) => beat.playing?.beat.nudge(delta, cap)}
            />
          )}
          {moment?.session?.kind === "over" ? (
            <Button kind="go" big onClick={() => void finish()}>
              Finish
            </Button>
          ) : (
            <Button big onClick={pause}>
              Pause or finish
            </Button>
          )}
        </div>
      )}
    </main>
  );
}
