// What there is to do today, in words that fit a phone.
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import type { RunnerToday } from "../../api/index.ts";
import { describeMissing, readAbilities } from "../app/abilities.ts";
import { exactRateValue } from "../app/exact-rate.ts";
import { TopBar } from "../app/top-bar.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { OpenRun } from "../run/open-run.tsx";
import { BeatFile } from "./beat-file.tsx";
import { SessionRows } from "./session-rows.tsx";
import { engineSession, lengthWords, type Planned } from "./session-words.ts";
import { WeekCheck } from "./week-check.tsx";

export function TodayScreen() {
  const { go } = useFrame();
  const { today, fetchedAtMs, consent, trouble, online } = usePhone();
  const format = useFormat();
  if (today === undefined) return null;
  const missing = describeMissing(readAbilities());
  const planned = today.session ?? today.upcoming[0];
  return (
    <>
      <TopBar />
      <main>
        <OpenRun />
        <p className="muted">
          {format.date(today.today)} · {today.name}
        </p>
        {today.stopped ? (
          <Stopped />
        ) : planned === undefined ? (
          <NoSession />
        ) : (
          <SessionOfDay planned={planned} today={today} format={format} />
        )}
        <WeekCheck />
        <section>
          <h2>Measure</h2>
          <div className="pair">
            <Button big onClick={() => go({ name: "count" })}>
              Count a minute
            </Button>
            <Button big onClick={() => go({ name: "tap" })}>
              Tap along
            </Button>
          </div>
        </section>
        <section>
          <h2>Tell</h2>
          <div className="pair">
            <Button big onClick={() => go({ name: "pain" })}>
              Something hurts
            </Button>
            <Button big onClick={() => go({ name: "after" })}>
              How it went
            </Button>
          </div>
        </section>
        {missing === undefined ? null : <p className="note">{missing}</p>}
        {trouble === "link-ended" ? (
          <p className="note">
            Your link has ended. What you record stays on this phone and goes out when you open a new link from your
            coach.
          </p>
        ) : null}
        {consent?.given === false ? (
          <p className="note">You chose to send nothing. Change it under “All sent”.</p>
        ) : null}
        <details className="small">
          <summary>Cautions</summary>
          {today.cautions.map((caution) => (
            <p key={caution}>{caution}</p>
          ))}
        </details>
        {fetchedAtMs === undefined || online ? null : (
          <p className="muted small">
            No connection. This is what your coach had on {format.dateTime(new Date(fetchedAtMs).toISOString())}.
          </p>
        )}
      </main>
    </>
  );
}

function SessionOfDay(props: { readonly planned: Planned; readonly today: RunnerToday; readonly format: Format }) {
  const { planned, today, format } = props;
  const { go } = useFrame();
  const isToday = planned.on === today.today;
  const pace = today.targetSpeedMps === null ? null : format.speed(today.targetSpeedMps);
  return (
    <section className="session">
      <h1 tabIndex={-1}>{isToday ? planned.session.title : "Nothing planned today"}</h1>
      {isToday ? null : (
        <p>
          Next: {planned.session.title.toLowerCase()}, {format.date(planned.on)}
          {planned.inPerson ? ", with the group" : ""}.
        </p>
      )}
      {today.targetSpm === null ? null : (
        <>
          <p className="aim-when muted">This week</p>
          <p className="aim">
            <span className="aim-number">{exactRateValue(format, today.targetSpm)}</span>
            <span className="aim-words">
              {format.reading.feet === "one" ? "steps a minute with one foot" : "steps a minute, both feet"}
              {pace === null ? "" : ` at ${pace}`}
            </span>
          </p>
          {isRise(today) ? <p className="aim-how">Same speed, shorter steps.</p> : null}
        </>
      )}
      <p>{capital(lengthWords(planned))}.</p>
      <SessionRows session={engineSession(planned)} />
      <div className="stack">
        <Button kind="go" big onClick={() => go({ name: "ready", sessionId: planned.id })}>
          {isToday ? "Run it" : "Run it today instead"}
        </Button>
        {planned.kind === "recall-check" ? null : (
          <Button big onClick={() => go({ name: "learn", sessionId: planned.id })}>
            Learn the beat standing
          </Button>
        )}
      </div>
      {planned.kind === "recall-check" ? null : <BeatFile planned={planned} />}
    </section>
  );
}

/** More steps at the same speed are shorter ones; back at the baseline they are what they were. */
function isRise({ targetSpm, baseline }: RunnerToday): boolean {
  return targetSpm !== null && targetSpm > (baseline?.stepRateSpm.estimate ?? 0);
}

function NoSession() {
  const { go } = useFrame();
  return (
    <section>
      <h1 tabIndex={-1}>Nothing planned yet</h1>
      <p>Your coach has not planned sessions for the next two weeks. A count or a recorded run helps to plan them.</p>
      <Button kind="go" big onClick={() => go({ name: "ready" })}>
        Record a run
      </Button>
    </section>
  );
}

function Stopped() {
  return (
    <section>
      <h1 tabIndex={-1}>Stop for now</h1>
      <p>
        Your coach has stopped the programme. There is no session and no beat until a doctor or physiotherapist has seen
        you and your coach starts it again.
      </p>
    </section>
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
