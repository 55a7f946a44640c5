// One recording: its numbers, its traces, the coach's labels on it, and why parts of it were not used.
import { useQuery } from "@tanstack/react-query";
import { lazy, Suspense } from "react";
import { Link } from "@tanstack/react-router";
import { describeProblems } from "../../engine/quantities/problem.ts";
import { formatMinutesSeconds } from "../../engine/quantities/units.ts";
import type { Format } from "../../ui/words/format.ts";
import { useParams } from "@tanstack/react-router";
import { HelpMark } from "../controls/help-mark.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { recordingQuery, runnerQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId, useRunnerId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { commonWords } from "../strings/common.ts";
import { recordingWords } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RecordingDetail } from "./detail.ts";
import { LabelsForm } from "./labels-form.tsx";
import "./recording.css";
import { WindowTable } from "./window-table.tsx";
import { leftOut } from "./window-model.ts";

/** The drawing of long lines is fetched while the numbers are already there. */
const Traces = lazy(() => import("./traces.tsx").then((part) => ({ default: part.Traces })));
const LateRun = lazy(() => import("./late-run.tsx").then((part) => ({ default: part.LateRun })));

export function RecordingPage() {
  const groupId = useGroupId();
  const runnerId = useRunnerId();
  const { recordingId = "" } = useParams({ strict: false });
  const format = useFormat(groupId);
  const runner = useQuery(runnerQuery(runnerId)).data;
  const detail = useQuery(recordingQuery(runnerId, recordingId));
  return (
    <Page wide>
      <Loaded query={detail}>
        {(data) => {
          const { recording } = data;
          return (
            <>
              <div className="title-row">
                <div>
                  <p className="crumb">
                    <Link to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId }}>
                      {runner?.name ?? ""}
                    </Link>
                  </p>
                  <PageTitle text={format.date(recording.startedAt ?? recording.uploadedAt)} />
                  <p className="muted">{recording.fileName}</p>
                </div>
              </div>
              <Notes recording={recording} />
              <Facts recording={recording} format={format} />
              {recording.state === "analysed" && (
                <>
                  <Suspense fallback={<p className="muted">{commonWords.loading}</p>}>
                    <Traces detail={data} format={format} />
                    <LateRun detail={data} format={format} />
                  </Suspense>
                  <LeftOut detail={data} />
                  <WindowTable windows={data.windows} format={format} />
                </>
              )}
              <LabelsForm key={recording.id} groupId={groupId} recording={recording} format={format} />
            </>
          );
        }}
      </Loaded>
    </Page>
  );
}

function Notes({ recording }: { readonly recording: RecordingDetail["recording"] }) {
  const problems = describeProblems(recording.problems);
  const warnings = recording.warnings.map((one) => one.message);
  return (
    <>
      {recording.state === "waiting" && <p className="notice">{recordingWords.waiting}</p>}
      {problems.length > 0 && (
        <div className="notice" role="alert">
          <h2>{recordingWords.problems}</h2>
          {problems.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </div>
      )}
      {warnings.length > 0 && (
        <div className="notice">
          <h2>{recordingWords.warnings}</h2>
          {warnings.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </div>
      )}
    </>
  );
}

function Facts({ recording, format }: { readonly recording: RecordingDetail["recording"]; readonly format: Format }) {
  const { summary } = recording;
  const words = recordingWords.facts;
  if (!summary) return null;
  const rows: readonly (readonly [string, string])[] = [
    [words.kind, recordingWords.kinds[summary.kind] ?? summary.kind],
    [words.started, recording.startedAt === null ? "–" : format.dateTime(recording.startedAt)],
    [words.duration, formatMinutesSeconds(summary.durationS)],
    [words.moving, formatMinutesSeconds(summary.movingS)],
    [words.distance, summary.distanceM === null ? "–" : format.distance(summary.distanceM)],
    [
      words.rate,
      summary.stepRateSpm
        ? `${format.rate(summary.stepRateSpm.mean)} ±${format.rateValue(summary.stepRateSpm.standardError, 1)}`
        : "–",
    ],
    [words.speed, summary.speedMps ? format.speed(summary.speedMps.mean) : "–"],
    [words.length, summary.stepLengthM ? format.length(summary.stepLengthM.mean) : "–"],
    [words.feet, recordingWords.feet[summary.feetCounted] ?? ""],
    [words.quality, format.percent(summary.meanQuality)],
    ...(summary.lateRunDropSpm
      ? [
          [
            words.late,
            runnerWords.late.value(
              format.rateChange(summary.lateRunDropSpm.estimate, 1),
              format.rateChangeValue(summary.lateRunDropSpm.interval95.low, 1),
              format.rateChangeValue(summary.lateRunDropSpm.interval95.high, 1),
            ),
          ] as const,
        ]
      : []),
  ];
  return (
    <dl className="facts facts-columns">
      {rows.map(([name, value]) => (
        <div key={name} className="facts-row">
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function LeftOut({ detail }: { readonly detail: RecordingDetail }) {
  const reasons = leftOut(detail.windows);
  return (
    <section>
      <h2 className="section-head">
        {recordingWords.why} <HelpMark topic="quality" />
      </h2>
      {reasons.length === 0 ? (
        <p className="muted">{recordingWords.nothingLeftOut}</p>
      ) : (
        <ul className="lines">
          {reasons.map((one) => (
            <li key={one.reason} className="line">
              <span className="line-when">{formatMinutesSeconds(one.seconds)}</span>
              <span>
                {one.reason} <span className="muted small">{recordingWords.left(one.count)}</span>
              </span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
