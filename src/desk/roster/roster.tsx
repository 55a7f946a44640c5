// Everyone in the group: search, sort, pick several and act on them.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useDeferredValue, useEffect, useRef, useState } from "react";
import type { RosterRow, Runner, RunnerInput } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import { type Sorting, SortHeader } from "../../ui/controls/sort-header.tsx";
import type { Format } from "../../ui/words/format.ts";
import { Loaded } from "../controls/loaded.tsx";
import { api } from "../data/client.ts";
import { rosterQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useSave } from "../data/use-save.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { isTyping } from "../shell/is-typing.ts";
import { rosterWords } from "../strings/groups.ts";
import { findingWords } from "../strings/runner.ts";
import { inputOf } from "./runner-input.ts";
import { RunnerFormDialog } from "./runner-form.tsx";
import { acceptable, narrowed, type RosterShow, type RosterSortKey, serverFilter } from "./roster-filter.ts";
import "./roster.css";

export function Roster() {
  const groupId = useGroupId();
  const format = useFormat(groupId);
  const [search, setSearch] = useState("");
  const [show, setShow] = useState<RosterShow>("everyone");
  const [sorting, setSorting] = useState<Sorting<RosterSortKey>>({ key: "name", descending: false });
  const [adding, setAdding] = useState(false);
  const searchBox = useRef<HTMLDivElement>(null);
  const roster = useQuery({
    ...rosterQuery(groupId, serverFilter(show, useDeferredValue(search), sorting.key, sorting.descending)),
    placeholderData: (old) => old,
  });
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== "/" || isTyping(event.target)) return;
      event.preventDefault();
      searchBox.current?.querySelector("input")?.focus();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  const nothingAsked = search.trim() === "" && show === "everyone";
  return (
    <Page wide>
      <div className="title-row">
        <div>
          <h1>{rosterWords.title}</h1>
          {roster.data && (
            <p className="muted">{rosterWords.count(narrowed(roster.data.items, show).length, roster.data.total)}</p>
          )}
        </div>
        <div className="row no-print">
          <Button kind="go" onClick={() => setAdding(true)}>
            {rosterWords.add}
          </Button>
          <Link className="button" to="/g/$groupId/import" params={{ groupId }}>
            {rosterWords.importCsv}
          </Link>
          <a
            className="button"
            download
            href={api.address("GET /api/groups/:groupId/roster.csv", { params: { groupId } })}
          >
            {rosterWords.exportCsv}
          </a>
        </div>
      </div>
      <div className="row row-end roster-tools no-print" ref={searchBox}>
        <TextField
          label={rosterWords.search}
          type="search"
          placeholder={rosterWords.searchHint}
          value={search}
          onChange={(event) => setSearch(event.target.value)}
        />
        <SelectField
          label={rosterWords.who}
          value={show}
          onChange={(event) => setShow(event.target.value as RosterShow)}
        >
          <option value="everyone">{rosterWords.everyone}</option>
          <option value="here">{rosterWords.here}</option>
          <option value="remote">{rosterWords.remote}</option>
          <option value="need-baseline">{rosterWords.needBaseline}</option>
          <option value="pain">{rosterWords.painful}</option>
          <option value="archived">{rosterWords.archived}</option>
        </SelectField>
      </div>
      <Loaded query={roster}>
        {(data) => {
          const rows = narrowed(data.items, show);
          if (rows.length === 0 && nothingAsked)
            return (
              <section className="empty">
                <h2>{rosterWords.emptyTitle}</h2>
                <p>{rosterWords.emptyLead}</p>
                <Link className="button button-go" to="/g/$groupId/import" params={{ groupId }}>
                  {rosterWords.importCsv}
                </Link>
              </section>
            );
          if (rows.length === 0) return <p className="empty">{rosterWords.noneFound}</p>;
          return <RosterTable rows={rows} groupId={groupId} format={format} sorting={sorting} onSort={setSorting} />;
        }}
      </Loaded>
      {adding && <RunnerFormDialog groupId={groupId} onClose={() => setAdding(false)} />}
    </Page>
  );
}

interface RosterTableProps {
  readonly rows: readonly RosterRow[];
  readonly groupId: string;
  readonly format: Format;
  readonly sorting: Sorting<RosterSortKey>;
  readonly onSort: (sorting: Sorting<RosterSortKey>) => void;
}

function RosterTable({ rows, groupId, format, sorting, onSort }: RosterTableProps) {
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
      <BulkBar rows={shownPicked} groupId={groupId} onDone={() => setPicked(new Set())} />
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
      <td className="num" data-label={words.target}>
        {row.targetSpm === null ? <span className="muted">{waitText(row)}</span> : format.rateValue(row.targetSpm)}
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
  if (row.advice === null) return "";
  if (!row.accepted) return rosterWords.toAccept;
  return row.advice === "leave-alone" ? rosterWords.leftAlone : "";
}

function BulkBar({
  rows,
  groupId,
  onDone,
}: {
  readonly rows: readonly RosterRow[];
  readonly groupId: string;
  readonly onDone: () => void;
}) {
  const accept = useSave({
    save: (ids: readonly string[]) =>
      api.call("POST /api/groups/:groupId/proposals", { params: { groupId }, body: { runnerIds: [...ids] } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => rosterWords.accepted(answer.accepted.length, answer.skipped.length),
    done: onDone,
  });
  const change = useSave({
    save: async (input: {
      readonly runners: readonly Runner[];
      readonly change: Partial<RunnerInput>;
      readonly said: (n: number) => string;
    }) => {
      for (const runner of input.runners)
        await api.call("PUT /api/groups/:groupId/runners/:runnerId", {
          params: { groupId, runnerId: runner.id },
          body: { ...inputOf(runner), ...input.change },
        });
      return input.runners.length;
    },
    said: (count, input) => input.said(count),
    done: onDone,
  });
  if (rows.length === 0) return null;
  const runners = rows.map((row) => row.runner);
  const ready = acceptable(rows).map((row) => row.runner.id);
  const anyArchived = runners.some((runner) => runner.archived);
  return (
    <fieldset className="bulk row group no-print" aria-label={rosterWords.picked(rows.length)}>
      <strong>{rosterWords.picked(rows.length)}</strong>
      <Button kind="go" disabled={ready.length === 0 || accept.isPending} onClick={() => accept.mutate(ready)}>
        {rosterWords.accept}
      </Button>
      <Button
        disabled={change.isPending}
        onClick={() => change.mutate({ runners, change: { remote: true }, said: rosterWords.changedDone })}
      >
        {rosterWords.setRemote}
      </Button>
      <Button
        disabled={change.isPending}
        onClick={() => change.mutate({ runners, change: { remote: false }, said: rosterWords.changedDone })}
      >
        {rosterWords.unsetRemote}
      </Button>
      <Button
        disabled={change.isPending}
        onClick={() =>
          change.mutate({
            runners,
            change: { archived: !anyArchived },
            said: anyArchived ? rosterWords.unarchivedDone : rosterWords.archivedDone,
          })
        }
      >
        {anyArchived ? rosterWords.unarchive : rosterWords.archive}
      </Button>
    </fieldset>
  );
}
