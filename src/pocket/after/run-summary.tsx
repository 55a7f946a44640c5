// The run in two sentences and a picture, worked out on the phone.
import { useEffect, useState } from "react";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import type { KeptRun } from "../data/database.ts";
import { fileOf } from "../data/runs.ts";
import type { WorkerAnswer } from "./analyse-worker.ts";
import { RunPicture } from "./run-picture.tsx";
import type { RunPictureData } from "./picture-data.ts";

export function RunSummary({ run }: { readonly run: KeptRun }) {
  const { phone } = useFrame();
  const { today } = usePhone();
  const format = useFormat();
  const [answer, setAnswer] = useState<WorkerAnswer>();
  useEffect(() => {
    const worker = new Worker(new URL("./analyse-worker.ts", import.meta.url), { type: "module" });
    worker.onmessage = (event: MessageEvent<WorkerAnswer>) => setAnswer(event.data);
    worker.onerror = () => setAnswer({ sorry: "The picture could not be made here. The run itself is safe." });
    void fileOf(phone.database, run.id).then((bytes) => worker.postMessage(bytes, [bytes.buffer]));
    return () => worker.terminate();
  }, [phone, run.id]);
  if (answer === undefined) return <p aria-live="polite">Looking at your steps…</p>;
  if ("sorry" in answer) return <p>{answer.sorry}</p>;
  const { picture } = answer;
  return (
    <>
      {sentences(picture, format).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {picture.points.length < 6 ? null : <RunPicture data={picture} targetSpm={today?.targetSpm ?? undefined} />}
    </>
  );
}

function sentences(picture: RunPictureData, format: ReturnType<typeof useFormat>): readonly string[] {
  const { beatOn, beatOff, all, distanceM } = picture;
  if (all.stepRateSpm === null) return ["Less than half a minute of running was seen, so there is no number."];
  const length = distanceM === null ? "" : `${format.distance(distanceM)} in `;
  const said = [`You ran ${length}${format.duration(picture.movingS)} at ${format.rate(Math.round(all.stepRateSpm))}.`];
  if (beatOn.stepRateSpm !== null && beatOff.stepRateSpm !== null)
    said.push(
      `With the beat ${format.rateValue(Math.round(beatOn.stepRateSpm))}, without it ${format.rateValue(Math.round(beatOff.stepRateSpm))}.`,
    );
  if (beatOn.speedMps !== null && beatOff.speedMps !== null)
    said.push(`Speed with the beat ${format.speed(beatOn.speedMps)}, without it ${format.speed(beatOff.speedMps)}.`);
  return said;
}
