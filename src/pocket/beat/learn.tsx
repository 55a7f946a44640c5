// The beat learned standing still, before it is run to.
import { useState } from "react";
import { starterDrills } from "../../engine/session/drill.ts";
import { listeningCaution } from "../../engine/target/cautions.ts";
import { Button } from "../../ui/controls/button.tsx";
import { exactRate, exactRateValue } from "../app/exact-rate.ts";
import { TopBar } from "../app/top-bar.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { beatRateOf, engineSession, sessionOf } from "../today/session-words.ts";
import { BeatControl, Nudge } from "./beat-control.tsx";
import { Pulse } from "./pulse.tsx";
import { useBeat } from "./use-beat.ts";

/** Long enough to be forgotten about; it ends when the runner says so. */
const LENGTH_S = 20 * 60;

export function LearnScreen({ sessionId }: { readonly sessionId?: string }) {
  const { phone, go } = useFrame();
  const { today, preferences } = usePhone();
  const format = useFormat();
  const beat = useBeat(preferences);
  const planned = today === undefined ? undefined : sessionOf(today, sessionId);
  const planRate =
    (planned === undefined ? undefined : beatRateOf(engineSession(planned))) ?? today?.targetSpm ?? undefined;
  const [rate, setRate] = useState(planRate);
  const drill = starterDrills.find((one) => one.id === "standing-beat");
  if (rate === undefined || planRate === undefined)
    return (
      <>
        <TopBar back />
        <main>
          <h1 tabIndex={-1}>No beat yet</h1>
          <p>There is no target to learn: your coach sets one.</p>
        </main>
      </>
    );
  const cap = today?.capSpm ?? planRate;
  const nudge = (delta: number): void => {
    beat.playing?.beat.nudge(delta, cap);
    setRate(Math.min(rate + delta, Math.max(cap, rate)));
  };
  const leave = (): void => {
    beat.stop();
    void phone.learned(rate);
    go({ name: "ready", ...(sessionId === undefined ? {} : { sessionId }) }, true);
  };
  return (
    <>
      <TopBar back />
      <main className="beat">
        <h1 tabIndex={-1}>Learn the beat standing</h1>
        <p>{drill?.howTo}</p>
        {beat.playing === undefined ? (
          <>
            <p className="huge">
              {exactRateValue(format, rate)}
              <span className="huge-unit">{format.rateUnit}</span>
            </p>
            <Button
              kind="go"
              big
              className="wide"
              onClick={() =>
                void beat.start({ stepRateSpm: rate, durationS: LENGTH_S }, { title: "The beat, standing" })
              }
            >
              Start the beat
            </Button>
            <p className="muted small">{listeningCaution}</p>
          </>
        ) : (
          <>
            <Pulse audio={beat.playing.audio} beat={beat.playing.beat} vibrate={preferences.vibrate} still={false} />
            <Nudge rateWords={exactRate(format, rate)} canRaise={rate + 1 <= cap} onNudge={nudge} />
            <div className="stack">
              <Button kind="go" big onClick={leave}>
                I have it
              </Button>
              <Button big onClick={beat.stop}>
                Stop the beat
              </Button>
            </div>
          </>
        )}
        {beat.problem === undefined ? null : <p className="note">{beat.problem}</p>}
        <BeatControl onVolume={beat.setVolume} onClick={beat.setClick} />
      </main>
    </>
  );
}
