// What is wrong, in a sentence, and what to do about it. Nothing here stops the run.
import { Button } from "../../ui/controls/button.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import type { Sensors } from "./prepare.ts";
import type { RunMoment } from "./run-session.ts";

const sensorWords: Readonly<Record<Sensors, string>> = {
  granted: "The phone sends no motion, so the steps are not counted. The beat goes on.",
  denied:
    "The motion sensor is not allowed, so the steps are not counted. The beat goes on. Allow it in the browser's settings for this page.",
  "no-sensor": "This browser offers no motion sensor, so the steps are not counted. The beat goes on.",
  insecure:
    "Without a trusted https address the browser keeps the motion sensor to itself, so the steps are not counted. The beat goes on.",
};

export interface RunTroubleProps {
  readonly moment: RunMoment;
  readonly failed: string | undefined;
  readonly awake: boolean;
  readonly sensors: Sensors;
}

export function RunTrouble({ moment, failed, awake, sensors }: RunTroubleProps) {
  const words: string[] = [];
  if (failed !== undefined) words.push(failed);
  if (!moment.hasMotion && moment.elapsedS > 3) words.push(sensorWords[sensors]);
  if (!awake && moment.elapsedS > 3) words.push("The screen may go dark by itself here; set it to stay on if you can.");
  if (moment.writeProblem === "closed")
    words.push("This run was finished in another window. What comes now is not kept.");
  if (moment.writeProblem === "failed") words.push("The phone did not keep the last seconds; it is tried again.");
  const full = moment.writeProblem === "full" || failed !== undefined;
  if (words.length === 0 && !full) return null;
  return (
    <div className="note" role="alert">
      {words.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {full ? <MakeRoom isFull={moment.writeProblem === "full"} /> : null}
    </div>
  );
}

/** The oldest run that the coach has already; what was never sent is never offered. */
function MakeRoom({ isFull }: { readonly isFull: boolean }) {
  const { phone } = useFrame();
  const { runs } = usePhone();
  const format = useFormat();
  const oldest = runs.findLast((run) => run.state === "sent");
  return (
    <>
      {isFull ? <p>The phone is full. The last seconds wait here and are written as soon as there is room.</p> : null}
      {oldest === undefined ? (
        isFull ? (
          <p>There is no sent run to remove: free some space on the phone.</p>
        ) : null
      ) : (
        <Button big onClick={() => void phone.forgetRun(oldest.id)}>
          Remove the run of {format.dateShort(new Date(oldest.startedAtMs).toISOString())} from the phone; your coach
          has it ({format.number(oldest.byteCount / 1e6, 1)} MB)
        </Button>
      )}
    </>
  );
}
