// The end of a programme: the group's change, everyone's own, how sure; to print and as data.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import type { ProgrammeResult } from "../../api/index.ts";
import { SMALLEST_WORTHWHILE_CHANGE_SPM } from "../../engine/evidence/change.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { type Sorting, SortHeader } from "../../ui/controls/sort-header.tsx";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import {
  ForestAxis,
  type ForestDomain,
  forestDomain,
  type ForestMark,
  ForestRow,
} from "../../ui/pictures/forest-row.tsx";
import type { Format } from "../../ui/words/format.ts";
import { Caution } from "../controls/caution.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api } from "../data/client.ts";
import { groupQuery, resultsQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { addDays } from "../shell/programme-week.ts";
import { PageTitle } from "../shell/page-title.tsx";
import { programmeWords } from "../strings/programme.ts";
import { findingWords } from "../strings/runner.ts";
import { markOf, type ResultSort, sortedResults, type WhichEstimate } from "./results-model.ts";
import "../../ui/pictures/pictures.css";
import "./programme.css";

export function ProgrammePage() {
  const groupId = useGroupId();
  const format = useFormat(groupId);
  const group = useQuery(groupQuery(groupId)).data;
  const results = useQuery(resultsQuery(groupId));
  return (
    <Page wide>
      <div className="title-row">
        <div>
          <PageTitle text={group ? group.name : programmeWords.title} />
          <p className="muted">
            {group &&
              programmeWords.dates(
                format.date(group.startsOn),
                format.date(addDays(group.startsOn, 7 * group.weeks - 1)),
              )}
          </p>
        </div>
        <div className="row no-print">
          <Button onClick={() => print()}>{programmeWords.print}</Button>
          <a
            className="button"
            download
            href={api.address("GET /api/groups/:groupId/results.csv", { params: { groupId } })}
          >
            {programmeWords.csv}
          </a>
          <a
            className="button"
            download
            href={api.address("GET /api/groups/:groupId/export.zip", { params: { groupId } })}
          >
            {programmeWords.zip}
          </a>
        </div>
      </div>
      <Loaded query={results}>{(data) => <Results data={data} format={format} groupId={groupId} />}</Loaded>
      <Caution />
    </Page>
  );
}

function Results({
  data,
  format,
  groupId,
}: {
  readonly data: ProgrammeResult;
  readonly format: Format;
  readonly groupId: string;
}) {
  const [which, setWhich] = useState<WhichEstimate>("own");
  const [sorting, setSorting] = useState<Sorting<ResultSort>>({ key: "change", descending: true });
  const group = "kind" in data.groupChangeSpm ? undefined : data.groupChangeSpm;
  const groupMark: ForestMark | undefined = group && {
    estimate: group.estimate,
    low: group.interval95.low,
    high: group.interval95.high,
  };
  const rows = sortedResults(data.runners, sorting, which, format.reading.locale);
  const marks = rows.flatMap((row) => markOf(row, which) ?? []);
  const domain = forestDomain(groupMark ? [...marks, groupMark] : marks);
  if (data.runners.length === 0 || (marks.length === 0 && !group))
    return (
      <section className="empty">
        <h2>{programmeWords.emptyTitle}</h2>
        <p>{data.sentence === "" ? programmeWords.emptyLead : data.sentence}</p>
      </section>
    );
  const words = programmeWords.column;
  const head = { sorting, onSort: setSorting };
  return (
    <>
      <p className="say">{group ? said(group, data, format) : data.sentence}</p>
      <div className="row row-end no-print">
        <Choice<WhichEstimate>
          label={programmeWords.which}
          value={which}
          onChange={setWhich}
          options={[
            { value: "own", text: programmeWords.own },
            { value: "shrunken", text: programmeWords.shrunken },
          ]}
        />
        <HelpMark topic="groupChange" />
      </div>
      <table className="table results">
        <thead>
          <tr>
            <SortHeader sortKey="name" {...head}>
              {words.runner}
            </SortHeader>
            <th scope="col" className="results-picture">
              <span className="visually-hidden">{words.change}</span>
            </th>
            <SortHeader sortKey="change" {...head}>
              {words.change}, {format.rateUnit}
            </SortHeader>
            <th scope="col">
              {words.finding} <HelpMark topic="finding" />
            </th>
            <th scope="col" className="num wide-only">
              {words.runs}
            </th>
            <SortHeader sortKey="sessions" numeric {...head}>
              {words.sessions}
            </SortHeader>
            <th scope="col" className="num wide-only">
              {words.attended}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const mark = markOf(row, which);
            return (
              <tr key={row.runnerId}>
                <th scope="row">
                  <Link to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId: row.runnerId }}>
                    {row.name}
                  </Link>
                </th>
                <td className="results-picture">
                  <Picture mark={mark} domain={domain} kind="runner" />
                </td>
                <td className="results-value">
                  {mark ? valueText(mark, format) : <span className="muted">{programmeWords.notEnough}</span>}
                </td>
                <td>{mark ? (findingWords[row.finding] ?? row.finding) : ""}</td>
                <td className="num wide-only">{programmeWords.runs(row.beforeRunCount, row.afterRunCount)}</td>
                <td className="num">{programmeWords.sessions(row.sessionsDone, row.sessionsPlanned)}</td>
                <td className="num wide-only">{row.attendedCount}</td>
              </tr>
            );
          })}
        </tbody>
        <tfoot>
          {groupMark && (
            <tr className="results-group">
              <th scope="row">{programmeWords.group}</th>
              <td className="results-picture">
                <Picture mark={groupMark} domain={domain} kind="group" />
              </td>
              <td className="results-value">
                <strong>{valueText(groupMark, format)}</strong>
              </td>
              <td colSpan={4} aria-hidden="true" />
            </tr>
          )}
          <tr className="results-axis">
            <td aria-hidden="true" />
            <td className="results-picture">
              <Fitted fallbackPx={380}>
                {(width) => (
                  <ForestAxis domain={domain} width={width} text={(value) => format.rateChangeValue(value)} />
                )}
              </Fitted>
            </td>
            <td colSpan={5} className="muted small">
              {programmeWords.band}
            </td>
          </tr>
        </tfoot>
      </table>
      {data.warnings.map((warning) => (
        <p key={warning} className="muted small">
          {warning}
        </p>
      ))}
    </>
  );
}

function Picture({
  mark,
  domain,
  kind,
}: {
  readonly mark: ForestMark | undefined;
  readonly domain: ForestDomain;
  readonly kind: "runner" | "group";
}) {
  return (
    <Fitted fallbackPx={380}>
      {(width) => (
        <ForestRow
          mark={mark}
          domain={domain}
          width={width}
          smallestWorthwhile={SMALLEST_WORTHWHILE_CHANGE_SPM.value}
          kind={kind}
        />
      )}
    </Fitted>
  );
}

/** In the group's own unit, as in the table below it. */
function said(
  group: Exclude<ProgrammeResult["groupChangeSpm"], { kind: unknown }>,
  data: ProgrammeResult,
  format: Format,
): string {
  const { estimate, interval95, sampleCount } = group;
  const value = (spm: number): string => format.rateChangeValue(spm, 1);
  return programmeWords.said(
    sampleCount,
    data.runners.length,
    format.rateChange(estimate, 1),
    value(interval95.low),
    value(interval95.high),
  );
}

function valueText(mark: ForestMark, format: Format): string {
  // One column, one rounding.
  const text = (value: number): string => format.rateChangeValue(value, 1);
  return programmeWords.value(text(mark.estimate), text(mark.low), text(mark.high));
}
