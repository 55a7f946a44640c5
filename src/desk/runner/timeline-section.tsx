// Everything in one line of time, and the history of changes with its undo.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import type { CallOutput } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import {
  changesQuery,
  countsQuery,
  formNotesQuery,
  painQuery,
  recordingsQuery,
  reportsQuery,
} from "../data/queries.ts";
import { useUndo } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { recordingWords } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";
import { countText } from "./counts-section.tsx";
import { formText } from "./form-section.tsx";
import type { RunnerPart } from "./part.ts";
import { timelineOf } from "./timeline-model.ts";

const words = runnerWords.timeline;
const SHORT = 10;

export function TimelineSection({ groupId, runner, format }: RunnerPart) {
  const counts = useQuery(countsQuery(runner.id)).data?.items ?? [];
  const recordings = useQuery(recordingsQuery(runner.id)).data?.items ?? [];
  const pain = useQuery(painQuery(runner.id)).data?.items ?? [];
  const forms = useQuery(formNotesQuery(runner.id)).data?.items ?? [];
  const reports = useQuery(reportsQuery(runner.id)).data?.items ?? [];
  const [all, setAll] = useState(false);
  const events = timelineOf({ counts, recordings, pain, forms, reports });
  const shown = all ? events : events.slice(0, SHORT);
  const textOf = (event: (typeof events)[number]): string => {
    switch (event.kind) {
      case "count":
        return words.count(`${countText(event.item, format)}, ${format.rate(event.item.stepRateSpm.estimate)}`);
      case "recording":
        return words.recording(recordingText(event.item, format));
      case "pain":
        return words.pain(runnerWords.pain.value(event.item.score, event.item.place));
      case "form":
        return words.form(formText(event.item));
      case "report":
        return words.report(
          [
            event.item.effortRating === null ? "" : words.effort(event.item.effortRating),
            event.item.done ? "" : words.notDone,
            event.item.note,
          ]
            .filter(Boolean)
            .join(", "),
        );
    }
  };
  return (
    <section>
      <h2 className="section-head">{words.heading}</h2>
      {events.length === 0 ? (
        <p className="muted">{words.empty}</p>
      ) : (
        <ol className="lines">
          {shown.map((event, i) => (
            <li
              key={`${event.kind} ${event.item.id}`}
              className={sameDay(event.at, shown[i - 1]?.at, format) ? "line line-same" : "line"}
            >
              <span className="line-when">{format.dateShort(event.at)}</span>
              {event.kind === "recording" ? (
                <Link
                  to="/g/$groupId/runners/$runnerId/recordings/$recordingId"
                  params={{ groupId, runnerId: runner.id, recordingId: event.item.id }}
                >
                  {textOf(event)}
                </Link>
              ) : (
                <span>{textOf(event)}</span>
              )}
            </li>
          ))}
        </ol>
      )}
      {events.length > SHORT && !all && (
        <Button kind="quiet" className="no-print" onClick={() => setAll(true)}>
          {words.showAll}
        </Button>
      )}
      <History groupId={groupId} runner={runner} format={format} />
    </section>
  );
}

function sameDay(at: string, before: string | undefined, format: RunnerPart["format"]): boolean {
  return before !== undefined && format.date(at) === format.date(before);
}

function recordingText(
  recording: CallOutput<"GET /api/runners/:runnerId/recordings">["items"][number],
  format: RunnerPart["format"],
): string {
  const { summary } = recording;
  if (!summary) return recording.fileName;
  return [
    recordingWords.kinds[summary.kind] ?? summary.kind,
    summary.distanceM === null ? format.duration(summary.durationS) : format.distance(summary.distanceM),
    summary.stepRateSpm ? format.rate(summary.stepRateSpm.mean) : "",
    summary.speedMps ? format.speed(summary.speedMps.mean) : "",
  ]
    .filter(Boolean)
    .join(", ");
}

function History({ groupId, runner, format }: RunnerPart) {
  const [open, setOpen] = useState(false);
  const changes = useQuery({ ...changesQuery(groupId, runner.id), enabled: open }).data?.items ?? [];
  const undo = useUndo();
  return (
    <details className="no-print" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.history}</summary>
      <ul className="lines">
        {changes.map((change) => (
          <li key={change.id} className="line">
            <span className="line-when">{format.dateTime(change.at)}</span>
            <span>
              {change.what}, {change.byName}
              {change.undone && <span className="muted">, {words.undone}</span>}
            </span>
            {!change.undone && (
              <Button
                kind="quiet"
                aria-label={`${commonWords.undo}: ${change.what}`}
                onClick={() => undo(groupId, change.id)}
              >
                {commonWords.undo}
              </Button>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}
