// The beat to look at: two bars, left and right, filled in turn. Each side changes at most half as often as the beat, so that
// even the quickest one stays below three flashes a second (WCAG 2.2, 2.3.1).
import { useEffect, useRef } from "react";
import type { LiveBeat } from "../../ui/audio/live-beat.ts";
import { heardNowS } from "../app/audio.ts";

export interface PulseProps {
  readonly audio: AudioContext;
  readonly beat: LiveBeat;
  readonly vibrate: boolean;
  readonly still: boolean;
}

const VIBRATION_MS = 25;
/** A motor takes a moment to turn. */
const MOTOR_LEAD_S = 0.03;

export function Pulse({ audio, beat, vibrate, still }: PulseProps) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let frame = 0;
    let felt = beat.positionAt(heardNowS(audio)) + MOTOR_LEAD_S;
    const draw = (): void => {
      const nowS = beat.positionAt(heardNowS(audio));
      const last = beat.between(Math.max(0, nowS - 0.6), nowS).findLast((event) => event.kind !== "announce");
      const side = last?.voice ?? "none";
      if (place.current !== null && place.current.dataset["side"] !== side && !still)
        place.current.dataset["side"] = side;
      if (vibrate && audio.state === "running") {
        const toS = nowS + MOTOR_LEAD_S;
        if (toS > felt) {
          if (beat.between(felt, toS).some((event) => event.kind !== "announce")) navigator.vibrate?.(VIBRATION_MS);
          felt = toS;
        }
      }
      frame = requestAnimationFrame(draw);
    };
    frame = requestAnimationFrame(draw);
    return () => cancelAnimationFrame(frame);
  }, [audio, beat, vibrate, still]);
  return (
    <div className="pulse" data-side="none" ref={place} aria-hidden="true">
      <span className="pulse-left" />
      <span className="pulse-right" />
    </div>
  );
}
