// Just before: is anything wrong, where is it run, what the phone will do.
import { useState } from "react";
import { painStartLimit } from "../../engine/evidence/targets.ts";
import { listeningCaution } from "../../engine/target/cautions.ts";
import { Button } from "../../ui/controls/button.tsx";
import { describeMissing, readAbilities } from "../app/abilities.ts";
import { exactRate } from "../app/exact-rate.ts";
import { ChoiceRow } from "../app/choice-row.tsx";
import { TopBar } from "../app/top-bar.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { SessionRows } from "../today/session-rows.tsx";
import { beatRateOf, engineSession, sessionOf } from "../today/session-words.ts";
import { LOW_BATTERY_SHARE, useBattery } from "./battery.ts";
import { prepareRun } from "./prepare.ts";
import { setNextRun } from "./next-run.ts";

export function ReadyScreen({ sessionId }: { readonly sessionId?: string }) {
  const { go } = useFrame();
  const { today, consent, learnedSpm } = usePhone();
  const format = useFormat();
  const battery = useBattery();
  const [surface, setSurface] = useState<"outdoor" | "treadmill">("outdoor");
  const [hurts, setHurts] = useState<"no" | "little" | "yes">();
  if (today === undefined) return null;
  const planned = sessionOf(today, sessionId);
  const rate = planned === undefined ? undefined : beatRateOf(engineSession(planned));
  const missing = describeMissing(readAbilities());
  const start = async (): Promise<void> => {
    const sensors = await prepareRun();
    setNextRun({ surface, sensors });
    go({ name: "run", ...(sessionId === undefined ? {} : { sessionId }) }, true);
  };
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>{planned?.session.title ?? "Record a run"}</h1>
        {planned === undefined ? null : <SessionRows session={engineSession(planned)} />}
        {rate !== undefined && learnedSpm !== rate ? (
          <div className="note">
            <p>{exactRate(format, rate)} is new to you here. Learn it standing first; it takes a minute.</p>
            <Button big onClick={() => go({ name: "learn", ...(sessionId === undefined ? {} : { sessionId }) }, true)}>
              Learn the beat standing
            </Button>
          </div>
        ) : null}
        <ChoiceRow
          label="Does anything hurt now?"
          value={hurts}
          options={[
            ["no", "No"],
            ["little", `A little, up to ${painStartLimit.value} of 10`],
            ["yes", "More"],
          ]}
          onChange={setHurts}
        />
        {hurts === "yes" ? (
          <div className="note" role="alert">
            <p>
              Do not start today. Tell your coach what hurts. Pain that is sharp, on one spot of bone, at night, at
              rest, with swelling or a limp is for a doctor or physiotherapist.
            </p>
            <Button kind="go" big onClick={() => go({ name: "pain" }, true)}>
              Tell your coach
            </Button>
          </div>
        ) : (
          <>
            <ChoiceRow
              label="Where"
              value={surface}
              options={[
                ["outdoor", "Outside"],
                ["treadmill", "Treadmill"],
              ]}
              onChange={setSurface}
            />
            <p className="muted">
              Wear the phone where it sits tight: waist, back pocket, upper arm. It counts your steps
              {surface === "outdoor" && consent?.location === true ? " and notes where you run" : ""}. Keep this page
              open and the screen on.
            </p>
            {missing === undefined ? null : <p className="note">{missing}</p>}
            {battery !== undefined && battery < LOW_BATTERY_SHARE ? (
              <p className="note">
                The battery is at {format.percent(battery)}. Should it die, what was recorded until then is kept.
              </p>
            ) : null}
            <div className="stack">
              <Button kind="go" big disabled={hurts === undefined} onClick={() => void start()}>
                Start
              </Button>
            </div>
            <p className="muted small">
              {hurts === undefined ? "Answer the question about pain first. " : ""}
              {listeningCaution}
            </p>
          </>
        )}
      </main>
    </>
  );
}
