// A guided minute: a tone to start, a tone to stop, one number.
import { useEffect, useState } from "react";
import { countRate, type MeasuredRate } from "../../engine/baseline/count.ts";
import type { Feet } from "../../engine/quantities/feet.ts";
import { describeProblem } from "../../engine/quantities/problem.ts";
import { playTone } from "../../ui/audio/sounds.ts";
import { Button } from "../../ui/controls/button.tsx";
import { startAudio } from "../app/audio.ts";
import { ChoiceRow } from "../app/choice-row.tsx";
import { TopBar } from "../app/top-bar.tsx";
import { keepAwake } from "../run/keep-awake.ts";
import { CountResult } from "./count-result.tsx";

const COUNT_S = 60;
const LEAD_S = 5;

type Phase =
  | { readonly kind: "before" }
  | { readonly kind: "counting"; readonly audio: AudioContext; readonly startS: number }
  | { readonly kind: "typing" }
  | { readonly kind: "measured"; readonly rate: MeasuredRate; readonly contacts: number; readonly confirmed: boolean };

export function CountScreen() {
  const [phase, setPhase] = useState<Phase>({ kind: "before" });
  const [feet, setFeet] = useState<Feet>("one");
  const again = (): void => setPhase({ kind: "before" });
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>Count a minute</h1>
        {phase.kind === "before" ? (
          <Before
            feet={feet}
            onFeet={setFeet}
            onStart={(audio, startS) => setPhase({ kind: "counting", audio, startS })}
            onType={() => setPhase({ kind: "typing" })}
          />
        ) : null}
        {phase.kind === "counting" ? (
          <Counting
            audio={phase.audio}
            startS={phase.startS}
            feet={feet}
            onDone={() => setPhase({ kind: "typing" })}
            onStop={again}
          />
        ) : null}
        {phase.kind === "typing" ? (
          <Typing
            feet={feet}
            onFeet={setFeet}
            onMeasured={(rate, contacts, confirmed) => setPhase({ kind: "measured", rate, contacts, confirmed })}
          />
        ) : null}
        {phase.kind === "measured" ? (
          <CountResult
            stepRateSpm={phase.rate.rate.estimate}
            standardErrorSpm={phase.rate.rate.standardError}
            measured={{
              way: "contacts-in-time",
              contacts: phase.contacts,
              seconds: COUNT_S,
              feet,
              first: "unknown",
              ...(phase.confirmed ? { confirmed: true } : {}),
            }}
            onAgain={again}
          />
        ) : null}
      </main>
    </>
  );
}

const feetOptions = [
  ["one", "One foot"],
  ["both", "Both feet"],
] as const;

function Before(props: {
  readonly feet: Feet;
  readonly onFeet: (feet: Feet) => void;
  readonly onStart: (audio: AudioContext, startS: number) => void;
  readonly onType: () => void;
}) {
  const start = async (): Promise<void> => {
    const audio = await startAudio();
    const startS = audio.currentTime + LEAD_S;
    playTone(audio, { atS: startS, lengthS: 0.4, frequencyHz: 880 });
    playTone(audio, { atS: startS + COUNT_S, lengthS: 0.8, frequencyHz: 587 });
    props.onStart(audio, startS);
  };
  return (
    <>
      <p>
        Run easily. From the high tone to the low tone, count every time{" "}
        {props.feet === "one" ? "your right foot" : "a foot"} lands. Five seconds after you press, the minute begins.
      </p>
      <ChoiceRow label="I count" value={props.feet} options={feetOptions} onChange={props.onFeet} />
      <div className="stack">
        <Button kind="go" big onClick={() => void start()}>
          Start the minute
        </Button>
        <Button big onClick={props.onType}>
          I have a number already
        </Button>
      </div>
    </>
  );
}

function Counting(props: {
  readonly audio: AudioContext;
  readonly startS: number;
  readonly feet: Feet;
  readonly onDone: () => void;
  readonly onStop: () => void;
}) {
  const { audio, startS, feet, onDone, onStop } = props;
  const [nowS, setNowS] = useState(audio.currentTime);
  const [isOver, setIsOver] = useState(false);
  useEffect(() => {
    if (isOver) onDone();
  }, [isOver, onDone]);
  useEffect(() => {
    const awake = keepAwake();
    // Only the display: the tones are on the audio clock already.
    const timer = setInterval(() => {
      setNowS(audio.currentTime);
      if (audio.currentTime > startS + COUNT_S + 1) setIsOver(true);
    }, 200);
    return () => {
      clearInterval(timer);
      awake.release();
    };
  }, [audio, startS]);
  const left = nowS < startS ? startS - nowS : COUNT_S - (nowS - startS);
  return (
    <>
      <p className="huge">
        {Math.max(0, Math.ceil(left))}
        <span className="huge-unit">s</span>
      </p>
      <p className="word" aria-live="polite">
        {nowS < startS ? "Get running" : feet === "one" ? "Count the right foot" : "Count both feet"}
      </p>
      <Button big onClick={onStop}>
        Stop
      </Button>
    </>
  );
}

function Typing(props: {
  readonly feet: Feet;
  readonly onFeet: (feet: Feet) => void;
  readonly onMeasured: (rate: MeasuredRate, contacts: number, confirmed: boolean) => void;
}) {
  const { feet, onFeet, onMeasured } = props;
  const [text, setText] = useState("");
  const [query, setQuery] = useState<string>();
  const [error, setError] = useState<string>();
  const take = (confirmed: boolean): void => {
    const contacts = Number(text.trim());
    const result = countRate({
      count: text.trim() === "" ? Number.NaN : contacts,
      seconds: COUNT_S,
      feet,
      feetConfirmed: confirmed,
    });
    setError(undefined);
    setQuery(undefined);
    if (!result.ok) {
      const [problem] = result.problems;
      setError(problem === undefined ? "Type the number you counted." : describeProblem(problem));
      return;
    }
    const asked = result.warnings.find(
      (warning) => warning.code === "feet-query" || warning.code === "rate-implausible",
    );
    if (asked !== undefined) setQuery(asked.message);
    else onMeasured(result.value, contacts, confirmed);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        take(false);
      }}
    >
      <ChoiceRow label="I counted" value={feet} options={feetOptions} onChange={onFeet} />
      <label className="big-field">
        <span>Contacts in the minute</span>
        <input
          className="input"
          inputMode="numeric"
          autoComplete="off"
          value={text}
          aria-invalid={error !== undefined}
          aria-describedby="count-said"
          onChange={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <p id="count-said" className="said" aria-live="polite">
        {error ?? query ?? ""}
      </p>
      <div className="stack">
        {query === undefined ? (
          <Button kind="go" big type="submit">
            That is it
          </Button>
        ) : (
          <Button kind="go" big onClick={() => take(true)}>
            It is right as it stands
          </Button>
        )}
      </div>
    </form>
  );
}
