// What this phone keeps, what waits, what is at the coach's; taking it back.
import { useEffect, useState } from "react";
import type { CallOutput } from "../../api/client.ts";
import { Button } from "../../ui/controls/button.tsx";
import { saveFile } from "../app/save-file.ts";
import { TopBar } from "../app/top-bar.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { api } from "../data/client.ts";
import type { KeptRun } from "../data/database.ts";
import type { Sendable } from "../data/outbox.ts";
import { DeleteAll } from "./delete-all.tsx";

const kinds: Readonly<Record<Sendable, string>> = {
  consent: "What you agreed to",
  count: "A count",
  report: "How it went",
  pain: "What hurts",
  run: "A recorded run",
};

export function KeptScreen() {
  const { phone, go } = useFrame();
  const { outbox, runs, consent, trouble, online } = usePhone();
  const format = useFormat();
  return (
    <>
      <TopBar back />
      <main>
        <h1 tabIndex={-1}>Kept and sent</h1>
        <section>
          <h2>Waiting to go</h2>
          {outbox.waiting.length === 0 ? (
            <p>Nothing. Your coach's server has everything.</p>
          ) : (
            <>
              <ul className="rows">
                {outbox.waiting.map((write) => (
                  <li key={write.id}>
                    {kinds[write.kind as Sendable]}, {format.dateTime(new Date(write.queuedAtMs).toISOString())}
                  </li>
                ))}
              </ul>
              <p className="muted">
                {trouble === "link-ended"
                  ? "Your link has ended. Ask your coach for a new one: these go out when you open it."
                  : online
                    ? "Safe on this phone until the server says it has them."
                    : "No connection. They go by themselves when there is one and this page is open."}
              </p>
              <Button big onClick={() => void phone.refresh()} disabled={outbox.sending}>
                {outbox.sending ? "Sending" : "Send now"}
              </Button>
            </>
          )}
          {outbox.refused.map(({ write, because }) => (
            <div key={write.id} className="note">
              <p>
                {kinds[write.kind as Sendable]} was not taken. {because}
              </p>
              <div className="pair">
                <Button onClick={() => void phone.sendAgain(write.id)}>Try again</Button>
                <Button onClick={() => void phone.dropWaiting(write.id)}>Remove it</Button>
              </div>
            </div>
          ))}
        </section>
        <section>
          <h2>Runs on this phone</h2>
          {runs.length === 0 ? <p>None.</p> : null}
          <ul className="rows">
            {runs.map((run) => (
              <RunRow key={run.id} run={run} />
            ))}
          </ul>
          <Space />
        </section>
        <AtCoach />
        <section>
          <h2>What you agreed to</h2>
          <p>
            {consent?.given === true
              ? `Runs, counts and reports go to your coach${consent.location ? ", with where you ran" : ", without where you ran"}.`
              : "Nothing is sent, except when you say that something hurts."}
          </p>
          <Button big onClick={() => go({ name: "consent" })}>
            Change it
          </Button>
        </section>
        <DeleteAll />
      </main>
    </>
  );
}

function RunRow({ run }: { readonly run: KeptRun }) {
  const { phone, go } = useFrame();
  const format = useFormat();
  const words = { recording: "cut off, not finished", ended: "not sent yet", sent: "at your coach's" }[run.state];
  return (
    <li className="rows-run">
      <span>
        {format.dateTime(new Date(run.startedAtMs).toISOString())}, {format.duration(run.lastTimeMs / 1000)}
        <br />
        <span className="muted">
          {words}, {format.number(run.byteCount / 1e6, 1)} MB
        </span>
      </span>
      <Button onClick={() => go({ name: "after", runId: run.id })}>Look</Button>
      {run.state === "sent" ? <Button onClick={() => void phone.forgetRun(run.id)}>Remove</Button> : null}
    </li>
  );
}

function Space() {
  const format = useFormat();
  const [text, setText] = useState("");
  useEffect(() => {
    void navigator.storage?.estimate?.().then(({ usage, quota }) => {
      if (usage !== undefined && quota !== undefined)
        setText(
          `The page uses ${format.number(usage / 1e6, 1)} MB here; ${format.number((quota - usage) / 1e9, 1)} GB are left for it.`,
        );
    });
  }, [format]);
  return <p className="muted small">{text} Runs that are sent may be removed from the phone at any time.</p>;
}

function AtCoach() {
  const { phone } = useFrame();
  const format = useFormat();
  const { trouble } = usePhone();
  const [sent, setSent] = useState<CallOutput<"GET /api/runner/sent"> | "unreachable">();
  const [note, setNote] = useState("");
  useEffect(() => {
    api.call("GET /api/runner/sent").then(setSent, () => setSent("unreachable"));
  }, []);
  const fetchCopy = async (): Promise<void> => {
    try {
      const file = (await api.call("GET /api/runner/export.zip")) as unknown as Blob;
      saveFile(file, "my-spondee-data.zip");
      setNote("The copy is among your downloads.");
    } catch {
      setNote("The server could not be reached. Try again when there is a connection.");
    }
  };
  const remove = async (id: string): Promise<void> => {
    try {
      await api.call("DELETE /api/runner/recordings/:recordingId", { params: { recordingId: id } });
      await phone.forgetRun(id);
      setSent(await api.call("GET /api/runner/sent"));
      setNote("Deleted at your coach's.");
    } catch {
      setNote("It could not be deleted now. Try again when there is a connection.");
    }
  };
  if (trouble === "link-ended") return null;
  return (
    <section>
      <h2>At your coach's</h2>
      {sent === undefined || sent === "unreachable" ? (
        <p className="muted">{sent === undefined ? "Asking." : "The server cannot be reached now."}</p>
      ) : (
        <>
          <p>
            {many(sent.recordings.length, "run")}, {many(sent.countCount, "count")}, {many(sent.reportCount, "report")}.
          </p>
          <details>
            <summary>Each run</summary>
            <ul className="rows">
              {sent.recordings.map((one) => (
                <li key={one.id} className="rows-run">
                  <span>
                    {format.dateTime(one.uploadedAt)}
                    <br />
                    <span className="muted">{one.fileName}</span>
                  </span>
                  <Button onClick={() => void remove(one.id)}>Delete</Button>
                </li>
              ))}
            </ul>
          </details>
        </>
      )}
      <p className="said" aria-live="polite">
        {note}
      </p>
      <Button big onClick={() => void fetchCopy()}>
        Get a copy of everything
      </Button>
    </section>
  );
}

function many(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? "" : "s"}`;
}
