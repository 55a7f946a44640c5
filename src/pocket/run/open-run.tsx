// A run that was cut off: the phone died, the page was closed. Nothing of it is lost; go on with it or finish it.
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { NotKept, useKeep } from "../app/not-kept.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { finishCutRun } from "./finish-cut-run.ts";

/** Longer than this after its last moment nobody is still on the same run. */
const RESUME_WITHIN_MS = 3 * 3600 * 1000;

export function OpenRun() {
  const { phone, go } = useFrame();
  const { runs, today } = usePhone();
  const format = useFormat();
  const { keep, why } = useKeep();
  const [openedMs] = useState(() => Date.now());
  const run = runs.find((one) => one.state === "recording" && one.runnerId === today?.runnerId);
  if (run === undefined) return null;
  const lastMs = run.startedAtMs + run.lastTimeMs;
  const finish = async (): Promise<void> => {
    const outcome = await finishCutRun(phone.database, run.id);
    await phone.lookAtRuns();
    if (outcome === "finished") go({ name: "after", runId: run.id });
  };
  return (
    <section className="note" aria-live="polite">
      <h2>A run was cut off</h2>
      <p>
        {format.duration(run.lastTimeMs / 1000)} from {format.dateTime(new Date(run.startedAtMs).toISOString())} are
        safe on this phone.
      </p>
      <div className="stack">
        {openedMs - lastMs < RESUME_WITHIN_MS ? (
          <Button
            kind="go"
            big
            onClick={() =>
              go({
                name: "run",
                resumeRunId: run.id,
                ...(run.sessionId === undefined ? {} : { sessionId: run.sessionId }),
              })
            }
          >
            Go on with it
          </Button>
        ) : null}
        <Button big onClick={() => keep(finish)}>
          Finish it here
        </Button>
      </div>
      <NotKept why={why} />
    </section>
  );
}
