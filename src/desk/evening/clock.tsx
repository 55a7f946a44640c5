// Digits as large as the screen allows. Space or a tap anywhere starts and stops.
import { useEffect, useRef, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { isTyping } from "../shell/is-typing.ts";
import { clockWords } from "../strings/evening.ts";
import { clockDigits } from "./clock-digits.ts";
import type { CountSetup } from "./entry-model.ts";
import type { CountingClock } from "./use-counting-clock.ts";
import { currentRound } from "./sheet-model.ts";
import type { SheetHandle } from "./use-sheet.ts";

export interface ClockProps {
  readonly clock: CountingClock;
  readonly setup: CountSetup;
  readonly round: number;
  readonly onStart: () => void;
  readonly runners: readonly { readonly id: string; readonly name: string }[];
  readonly handle: SheetHandle;
}

export function Clock({ clock, setup, round, onStart, runners, handle }: ClockProps) {
  const stage = useRef<HTMLElement>(null);
  const [filled, setFilled] = useState(false);
  const active = clock.phase === "ready" || clock.phase === "running";
  const stopwatch = setup.way === "time-of-contacts";
  const toggle = active ? clock.stop : onStart;
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== " " || isTyping(event.target)) return;
      if (event.target instanceof HTMLElement && event.target.closest("button, a, label") && !active) return;
      event.preventDefault();
      toggle();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, [active, toggle]);
  useEffect(() => {
    const onChange = (): void => setFilled(document.fullscreenElement !== null);
    document.addEventListener("fullscreenchange", onChange);
    return () => document.removeEventListener("fullscreenchange", onChange);
  }, []);
  return (
    <section
      ref={stage}
      className={active && !stopwatch ? "clock clock-active" : "clock"}
      aria-label={clockWords.region}
      data-phase={clock.phase}
    >
      <p className="clock-word">
        {clock.phase === "ready" && clockWords.getReady}
        {clock.phase === "running" && clockWords.running}
        {clock.phase === "done" && clockWords.done}
        {clock.phase === "idle" && clockWords.repeat(round)}
      </p>
      <div className="clock-digits" role="timer" aria-live="off">
        {clockDigits(clock.phase, clock.elapsedS)}
      </div>
      {!stopwatch && (
        <div className="clock-line" aria-hidden="true">
          <div
            className="clock-line-done"
            style={{ transform: `scaleX(${Math.min(1, Math.max(0, clock.elapsedS / setup.seconds))})` }}
          />
        </div>
      )}
      <div className="row clock-buttons">
        <Button kind="go" big onClick={toggle}>
          {active ? clockWords.stop : clock.phase === "done" ? clockWords.again : clockWords.start}
        </Button>
        {document.fullscreenEnabled && (
          <Button
            onClick={() => {
              if (filled) void document.exitFullscreen();
              else void stage.current?.requestFullscreen();
            }}
          >
            {filled ? clockWords.leaveFullScreen : clockWords.fullScreen}
          </Button>
        )}
      </div>
      <p className="muted">
        {clock.silent ? clockWords.soundBlocked : stopwatch ? "" : `${clockWords.idle} ${clockWords.first}`}
      </p>
      {stopwatch && clock.phase === "running" && (
        <div className="tap-list">
          {runners.map((runner) => (
            <Button
              key={runner.id}
              disabled={(currentRound(handle.sheet).entries[runner.id]?.text ?? "") !== ""}
              onClick={() => handle.capture(runner.id, (Math.round(clock.elapsedS * 10) / 10).toFixed(1))}
            >
              {runner.name}
            </Button>
          ))}
        </div>
      )}
    </section>
  );
}
