// Tap in time with one foot; it says when it is sure.
import { useRef, useState } from "react";
import { baselineMaxStandardErrorSpm } from "../../engine/evidence/measuring.ts";
import { Button } from "../../ui/controls/button.tsx";
import { TopBar } from "../app/top-bar.tsx";
import { useFormat } from "../app/use-phone.tsx";
import { CountResult } from "./count-result.tsx";
import { isSure, tapRate, type TapRate } from "./tap-rate.ts";

export function TapScreen() {
  const format = useFormat();
  const taps = useRef<number[]>([]);
  const [rate, setRate] = useState<TapRate>();
  const [done, setDone] = useState(false);
  const tap = (timeStampMs: number): void => {
    if (done) return;
    taps.current = [...taps.current.slice(-239), timeStampMs / 1000];
    const next = tapRate(taps.current);
    if ("kind" in next) {
      setRate(undefined);
      return;
    }
    setRate(next);
    if (isSure(next, baselineMaxStandardErrorSpm.value)) {
      setDone(true);
      navigator.vibrate?.(120);
    }
  };
  const again = (): void => {
    taps.current = [];
    setRate(undefined);
    setDone(false);
  };
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>Tap along</h1>
        {done && rate !== undefined ? (
          <CountResult
            stepRateSpm={rate.stepRateSpm}
            standardErrorSpm={rate.standardErrorSpm}
            measured={{
              way: "time-of-contacts",
              contacts: rate.contactCount,
              seconds: rate.seconds,
              feet: "one",
              first: "zero",
            }}
            onAgain={again}
          />
        ) : (
          <>
            <p>
              Tap each time the same foot lands: yours as you run, or a runner's you watch. It stops when it is sure.
            </p>
            <button
              type="button"
              className="tap-pad"
              onPointerDown={(event) => tap(event.timeStamp)}
              onKeyDown={(event) => {
                if (!event.repeat && (event.key === " " || event.key === "Enter")) tap(event.timeStamp);
              }}
            >
              {rate === undefined ? (
                <span className="word">Tap here</span>
              ) : (
                <>
                  <span className="huge">{format.rateValue(Math.round(rate.stepRateSpm))}</span>
                  <span>
                    {format.rateUnit}, give or take{" "}
                    {format.number(
                      1.96 * (format.reading.feet === "one" ? rate.standardErrorSpm / 2 : rate.standardErrorSpm),
                      1,
                    )}
                  </span>
                </>
              )}
            </button>
            <div className="stack">
              <Button big onClick={() => setDone(true)} disabled={rate === undefined}>
                That is enough
              </Button>
              <Button big onClick={again}>
                Start over
              </Button>
            </div>
          </>
        )}
      </main>
    </>
  );
}
