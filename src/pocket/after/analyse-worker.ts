// Reads and analyses a run away from the screen's thread: the same engine as the coach's server.
import { analyseRecording } from "../../engine/analysis/analyse-recording.ts";
import { describeProblem } from "../../engine/quantities/problem.ts";
import { readPhoneRecording } from "../../engine/recordings/phone-recording.ts";
import { pictureOf, type RunPictureData } from "./picture-data.ts";

export type WorkerAnswer = { readonly picture: RunPictureData } | { readonly sorry: string };

addEventListener("message", (event: MessageEvent<Uint8Array>) => {
  postMessage(answer(new TextDecoder().decode(event.data)));
});

function answer(text: string): WorkerAnswer {
  const read = readPhoneRecording(text, { fileName: "run" });
  if (!read.ok) return { sorry: read.problems.slice(0, 1).map(describeProblem).join("") };
  const analysed = analyseRecording(read.value);
  if (!analysed.ok) return { sorry: analysed.problems.slice(0, 1).map(describeProblem).join("") };
  return { picture: pictureOf(analysed.value, read.value.cueBlocks) };
}
