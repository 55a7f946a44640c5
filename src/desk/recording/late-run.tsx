// The step rate late in the run, with speed and slope taken out.
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { LateRunStrip } from "../../ui/pictures/late-run-strip.tsx";
import "../../ui/pictures/pictures.css";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { recordingWords } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RecordingDetail } from "./detail.ts";
import { lateRunData } from "./late-run-data.ts";

export function LateRun({ detail, format }: { readonly detail: RecordingDetail; readonly format: Format }) {
  const data = lateRunData(detail.windows);
  const drop = detail.recording.summary?.lateRunDropSpm;
  if (!data) return null;
  const words = recordingWords.late;
  const said = drop
    ? runnerWords.late.value(
        format.rateChange(drop.estimate, 1),
        format.rateChangeValue(drop.interval95.low, 1),
        format.rateChangeValue(drop.interval95.high, 1),
      )
    : "";
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="lateRunDrop" />
      </h2>
      <p className="muted small">
        {words.lead} {said !== "" && words.drop(said)}
      </p>
      <Fitted maxPx={1160}>
        {(width) => (
          <LateRunStrip
            data={data}
            width={width}
            rateText={(value) => format.rateValue(value)}
            minutesText={(minutes) => String(minutes)}
            title={words.heading}
            description={words.description(format.rate(data.firstThirdSpm, 1), format.rate(data.lastThirdSpm, 1))}
          />
        )}
      </Fitted>
    </section>
  );
}
