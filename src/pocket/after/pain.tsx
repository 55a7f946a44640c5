import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TopBar } from "../app/top-bar.tsx";
import { NotKept, useKeep } from "../app/not-kept.tsx";
import { useFrame } from "../app/use-phone.tsx";
import { NO_PAIN_SAID, PainAdvice, PainForm } from "./pain-form.tsx";
import { sendPain } from "./send-after.ts";

/** Pain goes to the coach whatever else was agreed to: it protects the runner. */
export function PainScreen() {
  const { phone, go } = useFrame();
  const [pain, setPain] = useState(NO_PAIN_SAID);
  const [note, setNote] = useState("");
  const [told, setTold] = useState(false);
  const { keep, why } = useKeep();
  const give = async (): Promise<void> => {
    await sendPain(phone, pain, note.trim());
    setTold(true);
  };
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>{told ? "Told" : "Something hurts"}</h1>
        {told ? (
          <>
            <p>It is kept, and goes to your coach as soon as there is a connection.</p>
            <PainAdvice entry={pain} />
            <Button big onClick={() => go({ name: "today" }, true)}>
              Back to today
            </Button>
          </>
        ) : (
          <>
            <PainForm label="How much?" entry={pain} onChange={setPain} />
            <label className="line-field">
              <span>Since when, doing what</span>
              <textarea
                className="input"
                rows={3}
                maxLength={2000}
                value={note}
                onChange={(event) => setNote(event.currentTarget.value)}
              />
            </label>
            <div className="stack">
              <Button kind="go" big disabled={pain.score === undefined} onClick={() => keep(give)}>
                Tell your coach
              </Button>
            </div>
            <NotKept why={why} />
          </>
        )}
      </main>
    </>
  );
}
