// The traces in numbers: one line a window, on request.
import { useState } from "react";
import { formatMinutesSeconds } from "../../engine/quantities/units.ts";
import type { Format } from "../../ui/words/format.ts";
import { speedHead } from "../runner/speed-head.ts";
import { recordingWords } from "../strings/recording.ts";
import type { Window } from "./window-model.ts";

const LINES = 200;

export function WindowTable({ windows, format }: { readonly windows: readonly Window[]; readonly format: Format }) {
  const [open, setOpen] = useState(false);
  const words = recordingWords.windows;
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {recordingWords.tracesTable} ({windows.length})
      </summary>
      {open && (
        // Scrolls sideways on a narrow screen, so the keyboard must reach it.
        // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
        <section className="scroll-x" tabIndex={0} aria-label={recordingWords.tracesTable}>
          <table className="table">
            <thead>
              <tr>
                <th scope="col">{words.from}</th>
                <th scope="col">{words.to}</th>
                <th scope="col" className="num">
                  {words.rate}
                </th>
                <th scope="col" className="num">
                  {speedHead(format)}
                </th>
                <th scope="col" className="num">
                  {words.quality}
                </th>
                <th scope="col">{words.state}</th>
                <th scope="col">{words.cue}</th>
                <th scope="col">{words.reason}</th>
              </tr>
            </thead>
            <tbody>
              {windows.slice(0, LINES).map((window) => (
                <tr key={`${window.startS} ${window.endS}`}>
                  <th scope="row">{formatMinutesSeconds(window.startS)}</th>
                  <td>{formatMinutesSeconds(window.endS)}</td>
                  <td className="num">{window.stepRateSpm === null ? "–" : format.rateValue(window.stepRateSpm, 1)}</td>
                  <td className="num">{window.speedMps === null ? "–" : format.speedValue(window.speedMps)}</td>
                  <td className="num">{format.percent(window.quality)}</td>
                  <td>{recordingWords.states[window.state]}</td>
                  <td>
                    {window.cue === null
                      ? ""
                      : window.cue === "on"
                        ? recordingWords.block.on
                        : recordingWords.block.off}
                  </td>
                  <td>{window.reason ?? ""}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </details>
  );
}
