// What is wrong, in a sentence, and what to do about it. Nothing here stops the run.
import { MakeRoom } from "../app/make-room.tsx";
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
  readonly beatProblem: string | undefined;
  readonly awake: boolean;
  readonly sensors: Sensors;
}

export function RunTrouble({ moment, beatProblem, awake, sensors }: RunTroubleProps) {
  const words: string[] = [];
  if (beatProblem !== undefined) words.push(beatProblem);
  if (!moment.hasMotion && moment.elapsedS > 3) words.push(sensorWords[sensors]);
  if (!awake && moment.elapsedS > 3) words.push("The screen may go dark by itself here; set it to stay on if you can.");
  if (moment.writeProblem === "closed")
    words.push("This run was finished in another window. What comes now is not kept.");
  if (moment.writeProblem === "failed") words.push("The phone did not keep the last seconds; it is tried again.");
  if (moment.writeProblem === "full")
    words.push("The phone is full. The last seconds wait here and are written as soon as there is room.");
  if (words.length === 0) return null;
  return (
    <div className="note" role="alert">
      {words.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {moment.writeProblem === "full" ? <MakeRoom /> : null}
    </div>
  );
}
