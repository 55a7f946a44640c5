// Tap in time with one foot; it says when it is sure.
import { useRef, useState } from "react";
import { baselineMaxStandardErrorSpm } from "../../engine/evidence/measuring.ts";
import { type Feet, queryFeet } from "../../engine/quantities/feet.ts";
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
  const [feet, setFeet] = useState<{ readonly feet: Feet; readonly confirmed: boolean }>();
  const stop = (final: TapRate): void => {
    setDone(true);
    // Rule M3: a number that fits the other label is asked about, never turned into it.
    const plausible = queryFeet({ value: final.stepRateSpm / 2, feet: "one" }).kind === "plausible";
    setFeet(plausible ? { feet: "one", confirmed: false } : undefined);
  };
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
      stop(next);
      navigator.vibrate?.(120);
    }
  };
  const again = (): void => {
    taps.current = [];
    setRate(undefined);
    setDone(false);
    setFeet(undefined);
  };
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>Tap along</h1>
        {done && rate !== undefined && feet === undefined ? (
          <WhichFeet
            perMinute={rate.stepRateSpm / 2}
            onFeet={(chosen) => setFeet({ feet: chosen, confirmed: true })}
            onAgain={again}
          />
        ) : done && rate !== undefined && feet !== undefined ? (
          <CountResult
            stepRateSpm={feet.feet === "one" ? rate.stepRateSpm : rate.stepRateSpm / 2}
            standardErrorSpm={feet.feet === "one" ? rate.standardErrorSpm : rate.standardErrorSpm / 2}
            measured={{
              way: "time-of-contacts",
              contacts: rate.contactCount,
              seconds: rate.seconds,
              feet: feet.feet,
              first: "zero",
              ...(feet.confirmed ? { confirmed: true } : {}),
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
              <Button big onClick={() => rate !== undefined && stop(rate)} disabled={rate === undefined}>
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

function WhichFeet(props: {
  readonly perMinute: number;
  readonly onFeet: (feet: Feet) => void;
  readonly onAgain: () => void;
}) {
  return (
    <>
      <p>
        You tapped {Math.round(props.perMinute)} times a minute. That is unusual for one foot. Which did you tap?
        Nothing was converted.
      </p>
      <div className="stack">
        <Button big onClick={() => props.onFeet("both")}>
          Every step, both feet
        </Button>
        <Button big onClick={() => props.onFeet("one")}>
          One foot, it is right
        </Button>
        <Button big onClick={props.onAgain}>
          Start over
        </Button>
      </div>
    </>
  );
}
