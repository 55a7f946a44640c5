// Drop files anywhere on the frame; each says what became of it. Below: every recording with its numbers and its quality.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { describeProblems } from "../../engine/quantities/problem.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { FileDrop } from "../controls/file-drop.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { recordingsQuery } from "../data/queries.ts";
import { commonWords } from "../strings/common.ts";
import { recordingWords } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";
import { speedHead } from "./speed-head.ts";
import { type Upload, type UploadPhase, type UploadSurface, useUploads } from "./use-uploads.ts";

const words = runnerWords.recordings;
const PHASES: readonly UploadPhase[] = ["before", "during", "after"];

export function RecordingsSection({ groupId, runner, format }: RunnerPart) {
  const recordings = useQuery(recordingsQuery(runner.id)).data?.items ?? [];
  const uploads = useUploads(runner.id);
  const [chosenPhase, setPhase] = useState<UploadPhase>();
  const [surface, setSurface] = useState<UploadSurface>("outdoor");
  const haveBefore = recordings.some((one) => one.phase === "before" && !one.excluded);
  // The first files are usually the ones from before.
  const phase = chosenPhase ?? (haveBefore ? "after" : "before");
  const add = (files: readonly File[]): void => uploads.add(files, phase, surface);
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="quality" />
      </h2>
      <div className="row row-end no-print">
        <Choice<UploadPhase>
          label={words.phase}
          value={phase}
          onChange={setPhase}
          options={PHASES.map((value) => ({ value, text: words.phases[value] ?? value }))}
        />
        <Choice<UploadSurface>
          label={words.surface}
          value={surface}
          onChange={setSurface}
          options={[
            { value: "outdoor", text: recordingWords.surfaces["outdoor"] ?? "" },
            { value: "treadmill", text: recordingWords.surfaces["treadmill"] ?? "" },
          ]}
        />
      </div>
      <FileDrop
        label={words.drop}
        choose={words.choose}
        types={[".gpx", ".csv", ".json", ".jsonl", ".wav"]}
        several
        onFiles={add}
      />
      {uploads.items.length > 0 && (
        <output className="block" aria-label={words.outcomes}>
          <ul className="lines">
            {uploads.items.map((upload) => (
              <UploadLine key={upload.id} upload={upload} onRetry={() => uploads.retry(upload.id)} />
            ))}
          </ul>
          <Button kind="quiet" onClick={uploads.clear}>
            {words.clear}
          </Button>
        </output>
      )}
      {recordings.length === 0 ? (
        <p className="muted">{words.empty}</p>
      ) : (
        <>
          <table className="table recordings">
            <thead>
              <tr>
                <th scope="col">{words.column.when}</th>
                <th scope="col">{words.column.phase}</th>
                <th scope="col" className="num">
                  {words.column.rate}
                </th>
                <th scope="col" className="num">
                  {speedHead(format)}
                </th>
                <th scope="col" className="num wide-only">
                  {words.column.distance}
                </th>
                <th scope="col" className="num wide-only">
                  {words.column.quality}
                </th>
                <th scope="col" className="wide-only">
                  {words.column.file}
                </th>
              </tr>
            </thead>
            <tbody>
              {recordings.map((one) => (
                <tr key={one.id} className={one.excluded ? "left-out" : undefined}>
                  <th scope="row">
                    <Link
                      to="/g/$groupId/runners/$runnerId/recordings/$recordingId"
                      params={{ groupId, runnerId: runner.id, recordingId: one.id }}
                    >
                      {format.dateShort(one.startedAt ?? one.uploadedAt)}
                    </Link>
                  </th>
                  <td data-label={words.column.phase}>
                    {words.phases[one.phase]}
                    {one.excluded && `, ${words.excluded}`}
                    {one.surface === "treadmill" && `, ${recordingWords.surfaces["treadmill"]}`}
                  </td>
                  {one.summary ? (
                    <>
                      <td className="num" data-label={words.column.rate}>
                        {one.summary.stepRateSpm ? format.rateValue(one.summary.stepRateSpm.mean) : "–"}
                      </td>
                      <td className="num" data-label={speedHead(format)}>
                        {one.summary.speedMps ? format.speedValue(one.summary.speedMps.mean) : "–"}
                      </td>
                      <td className="num wide-only">
                        {one.summary.distanceM === null ? "–" : format.distance(one.summary.distanceM)}
                      </td>
                      <td className="num wide-only">{format.percent(one.summary.meanQuality)}</td>
                    </>
                  ) : (
                    <td colSpan={4} className="muted">
                      {one.state === "waiting" ? words.reading : words.unreadable}
                    </td>
                  )}
                  <td className="wide-only muted small file-name">{one.fileName}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="muted small">{words.needTwo}</p>
        </>
      )}
    </section>
  );
}

function UploadLine({ upload, onRetry }: { readonly upload: Upload; readonly onRetry: () => void }) {
  const state = {
    waiting: words.waiting,
    sending: words.sending,
    stored: words.stored,
    duplicate: words.duplicate,
    failed: words.failed,
  }[upload.state];
  const problems = describeProblems(upload.recording?.problems ?? []);
  const unreadable = upload.recording?.state === "unreadable";
  const shape = { waiting: "·", sending: "↑", stored: unreadable ? "!" : "✓", duplicate: "=", failed: "!" }[
    upload.state
  ];
  return (
    <li className="line">
      <span className="line-when">
        <span className="mark-shape" aria-hidden="true">
          {shape}
        </span>{" "}
        {unreadable ? words.unreadable : state}
      </span>
      <span>
        {upload.fileName}
        {[...(upload.why === undefined ? [] : [upload.why]), ...problems].map((sentence) => (
          <span key={sentence} className="muted small block">
            {sentence}
          </span>
        ))}
      </span>
      {upload.state === "failed" && <Button onClick={onRetry}>{commonWords.tryAgain}</Button>}
    </li>
  );
}
