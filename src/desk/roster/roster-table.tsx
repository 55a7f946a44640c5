// The roster's rows, with boxes to pick several.
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import type { RosterRow } from "../../api/index.ts";
import { type Sorting, SortHeader } from "../../ui/controls/sort-header.tsx";
import type { Format } from "../../ui/words/format.ts";
import { rosterWords } from "../strings/groups.ts";
import { findingWords } from "../strings/runner.ts";
import { BulkBar } from "./bulk-bar.tsx";
import type { RosterSortKey } from "./roster-filter.ts";

interface RosterTableProps {
  readonly rows: readonly RosterRow[];
  readonly groupId: string;
  readonly format: Format;
  readonly sorting: Sorting<RosterSortKey>;
  readonly onSort: (sorting: Sorting<RosterSortKey>) => void;
}

export function RosterTable({ rows, groupId, format, sorting, onSort }: RosterTableProps) {
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set());
  const shownPicked = rows.filter((row) => picked.has(row.runner.id));
  const pick = (ids: readonly string[], on: boolean): void =>
    setPicked((old) => {
      const next = new Set(old);
      for (const id of ids) {
        if (on) next.add(id);
        else next.delete(id);
      }
      return next;
    });
  const words = rosterWords.column;
  const head = { sorting, onSort };
  return (
    <>
      <table className="table roster">
        <thead>
          <tr>
            <th scope="col" className="no-print">
              <label className="check">
                <input
                  type="checkbox"
                  aria-label={rosterWords.pickAll}
                  checked={shownPicked.length === rows.length}
                  onChange={(event) =>
                    pick(
                      rows.map((row) => row.runner.id),
                      event.target.checked,
                    )
                  }
                />
              </label>
            </th>
            <SortHeader sortKey="name" {...head}>
              {words.name}
            </SortHeader>
            <SortHeader sortKey="baseline" numeric {...head}>
              {words.baseline}
            </SortHeader>
            <SortHeader sortKey="target" numeric {...head}>
              {words.target}
            </SortHeader>
            <th scope="col" className="wide-only">
              {words.stage}
            </th>
            <th scope="col">{words.finding}</th>
            <SortHeader sortKey="last-recording" {...head}>
              {words.last}
            </SortHeader>
            <th scope="col">{words.pain}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <RosterLine
              key={row.runner.id}
              row={row}
              groupId={groupId}
              format={format}
              picked={picked.has(row.runner.id)}
              onPick={pick}
            />
          ))}
        </tbody>
      </table>
      <BulkBar rows={shownPicked} groupId={groupId} onDone={() => setPicked(new Set())} />
    </>
  );
}

interface RosterLineProps {
  readonly row: RosterRow;
  readonly groupId: string;
  readonly format: Format;
  readonly picked: boolean;
  readonly onPick: (ids: readonly string[], on: boolean) => void;
}

function RosterLine({ row, groupId, format, picked, onPick }: RosterLineProps) {
  const { runner } = row;
  const words = rosterWords.column;
  return (
    <tr>
      <td className="roster-pick no-print">
        <label className="check">
          <input
            type="checkbox"
            aria-label={rosterWords.pick(runner.name)}
            checked={picked}
            onChange={(event) => onPick([runner.id], event.target.checked)}
          />
        </label>
      </td>
      <th scope="row">
        <Link to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId: runner.id }}>
          {runner.name}
        </Link>
        {runner.remote && <span className="muted small"> {rosterWords.remoteMark}</span>}
      </th>
      <td className="num" data-label={words.baseline}>
        {row.baselineSpm ? (
          <>
            {format.rateValue(row.baselineSpm.estimate)}{" "}
            <span className="muted">±{format.rateValue(row.baselineSpm.standardError, 1)}</span>
          </>
        ) : (
          <span className="muted">{rosterWords.noBaseline}</span>
        )}
      </td>
      <td className="num" data-label={row.targetSpm === null ? undefined : words.target}>
        {row.targetSpm !== null
          ? format.beatValue(row.targetSpm)
          : waitText(row) !== "" && <span className="muted">{waitText(row)}</span>}
      </td>
      <td className="wide-only" data-label={words.stage}>
        {row.stageIndex === null || row.stageCount === null ? "" : rosterWords.stage(row.stageIndex, row.stageCount)}
      </td>
      <td data-label={words.finding}>{row.finding === null ? "" : (findingWords[row.finding] ?? row.finding)}</td>
      <td data-label={words.last}>{row.lastRecordingAt === null ? "" : format.dateShort(row.lastRecordingAt)}</td>
      <td data-label={words.pain}>
        {row.latestPain === null || row.latestPain === 0 ? "" : rosterWords.painOf(row.latestPain)}
      </td>
    </tr>
  );
}

function waitText(row: RosterRow): string {
  if (row.advice === "refer") return rosterWords.refer;
  // Without a baseline the column before says what to do.
  if (row.advice === null || row.advice === "measure-first") return "";
  if (!row.accepted) return rosterWords.toAccept;
  return row.advice === "leave-alone" ? rosterWords.leftAlone : "";
}
