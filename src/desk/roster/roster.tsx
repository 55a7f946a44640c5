// Everyone in the group: search, sort, pick several and act on them.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useDeferredValue, useEffect, useRef, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import type { Sorting } from "../../ui/controls/sort-header.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api } from "../data/client.ts";
import { rosterQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { isTyping } from "../shell/is-typing.ts";
import { PageTitle } from "../shell/page-title.tsx";
import { rosterWords } from "../strings/groups.ts";
import { RosterTable } from "./roster-table.tsx";
import { RunnerFormDialog } from "./runner-form.tsx";
import { narrowed, type RosterShow, type RosterSortKey, serverFilter } from "./roster-filter.ts";
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
          <PageTitle text={rosterWords.title} />
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
