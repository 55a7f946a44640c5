// Clips that were measured before, newest first.
import { useQuery } from "@tanstack/react-query";
import type { Runner, VideoMeasure } from "../../api/index.ts";
import { measureVideoFrames } from "../../engine/steps/video-frames.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { api } from "../data/client.ts";
import { videoQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { videoWords as words } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";

export function Earlier({
  runner,
  format,
  groupId,
}: {
  readonly runner: Runner;
  readonly format: Format;
  readonly groupId: string;
}) {
  const earlier = useQuery(videoQuery(runner.id)).data?.items ?? [];
  const remove = useSave({
    save: (entryId: string) =>
      api.call("DELETE /api/runners/:runnerId/video-measures/:entryId", { params: { runnerId: runner.id, entryId } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => runnerWords.pain.removed,
  });
  return (
    <section>
      <h2 className="section-head">{words.earlier}</h2>
      {earlier.length === 0 ? (
        <p className="muted">{words.none}</p>
      ) : (
        <ul className="lines">
          {earlier.map((one) => (
            <li key={one.id} className="line">
              <span className="line-when">{format.dateShort(one.at)}</span>
              <span>{earlierText(one, format)}</span>
              <Button kind="quiet" onClick={() => remove.mutate(one.id)}>
                {runnerWords.pain.remove}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function earlierText(measure: VideoMeasure, format: Format): string {
  const contacts = measure.contactFrames.flatMap((landFrame, i) => {
    const toeOffFrame = measure.toeOffFrames[i];
    return toeOffFrame === undefined ? [] : [{ landFrame, toeOffFrame }];
  });
  const measured = measureVideoFrames({ frameRateHz: measure.frameRateHz, contacts, feet: "both" });
  return [
    runnerWords.recordings.phases[measure.phase] ?? measure.phase,
    measured.ok ? `${words.contactTime} ${format.number(measured.value.contactTimeS.estimate * 1000)} ${words.ms}` : "",
    measure.shankAngleRad === null
      ? ""
      : `${words.shank} ${words.degrees(format.number((measure.shankAngleRad * 180) / Math.PI))}`,
    measure.footAheadOfHipM === null ? "" : `${words.ahead} ${format.lengthChange(measure.footAheadOfHipM)}`,
  ]
    .filter(Boolean)
    .join(", ");
}
