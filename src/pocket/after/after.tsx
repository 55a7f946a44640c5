// After the run: what it looked like, two taps, a note.
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TopBar } from "../app/top-bar.tsx";
import { NotKept, useKeep } from "../app/not-kept.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import type { KeptRun } from "../data/database.ts";
import { NO_PAIN_SAID, PainForm } from "./pain-form.tsx";
import { Rating } from "./rating.tsx";
import { RunSummary } from "./run-summary.tsx";
import { sendPain, sendReport } from "./send-after.ts";

export function AfterScreen({ runId }: { readonly runId?: string }) {
  const { phone, go } = useFrame();
  const { runs, consent, today } = usePhone();
  const [effortRating, setEffort] = useState<number>();
  const [pain, setPain] = useState(NO_PAIN_SAID);
  const [note, setNote] = useState("");
  const { keep, why } = useKeep();
  const run = runs.find((one) => one.id === runId);
  const give = async (): Promise<void> => {
    await sendPain(phone, pain, note.trim());
    await sendReport(phone, {
      runId: run?.id,
      sessionId: run?.sessionId ?? today?.session?.id,
      effortRating,
      note: note.trim(),
    });
    go({ name: "today" }, true);
  };
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>How it went</h1>
        {run === undefined ? null : <RunOf run={run} />}
        <Rating label="How hard was it?" low="no effort" high="all you had" value={effortRating} onChange={setEffort} />
        <PainForm label="Does anything hurt?" entry={pain} onChange={setPain} />
        <label className="line-field">
          <span>A note, if you like</span>
          <textarea
            className="input"
            rows={3}
            maxLength={2000}
            value={note}
            onChange={(event) => setNote(event.currentTarget.value)}
          />
        </label>
        <div className="stack">
          <Button
            kind="go"
            big
            disabled={effortRating === undefined && pain.score === undefined && note.trim() === ""}
            onClick={() => keep(give)}
          >
            Send to your coach
          </Button>
        </div>
        <NotKept why={why} />
        {consent?.given === true ? null : (
          <p className="muted small">You chose to send nothing: only what hurts goes to your coach.</p>
        )}
      </main>
    </>
  );
}

function RunOf({ run }: { readonly run: KeptRun }) {
  const { phone, go } = useFrame();
  const { consent } = usePhone();
  const format = useFormat();
  const [asked, setAsked] = useState(false);
  return (
    <section>
      <p className="muted">
        {format.dateTime(new Date(run.startedAtMs).toISOString())} · {format.duration(run.lastTimeMs / 1000)} ·{" "}
        {run.state === "sent"
          ? "your coach has it"
          : consent?.given === true
            ? "goes out by itself"
            : "stays on this phone"}
      </p>
      <RunSummary run={run} />
      {run.state === "sent" ? null : asked ? (
        <div className="note" role="alert">
          <p>This run goes from the phone for good, and your coach never gets it.</p>
          <div className="pair">
            <Button
              onClick={() => {
                void phone.forgetRun(run.id);
                go({ name: "today" }, true);
              }}
            >
              Delete it
            </Button>
            <Button kind="go" onClick={() => setAsked(false)}>
              Keep it
            </Button>
          </div>
        </div>
      ) : (
        <Button kind="quiet" onClick={() => setAsked(true)}>
          Delete this run instead
        </Button>
      )}
    </section>
  );
}
