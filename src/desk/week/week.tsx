// The week's triage: one line a runner, worst first, one press to agree.
import { useQuery, useQueryClient } from "@tanstack/react-query";
import { Link, useNavigate, useSearch } from "@tanstack/react-router";
import { useEffect, useState } from "react";
import type { DecisionKind, WeekRow } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { SelectField } from "../../ui/controls/field.tsx";
import { Caution } from "../controls/caution.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api, makeId } from "../data/client.ts";
import { weekQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useSave } from "../data/use-save.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { isTyping } from "../shell/is-typing.ts";
import { addDays } from "../shell/programme-week.ts";
import { PageTitle } from "../shell/page-title.tsx";
import { decisionWords, weekWords } from "../strings/week.ts";
import { ChangeDecision } from "./change-decision.tsx";
import "./week.css";
import { WeekLine } from "./week-line.tsx";
import { ProposalsWaiting } from "./proposals-waiting.tsx";
import { confirmable, confirmWord, shownRows, withDecisions, type WeekShow, type WeekSort } from "./week-model.ts";

export interface Deciding {
  readonly row: WeekRow;
  readonly decision: DecisionKind;
  readonly reason?: string;
}

export function WeekPage() {
  const groupId = useGroupId();
  const { on } = useSearch({ from: "/g/$groupId/week" });
  const navigate = useNavigate();
  const format = useFormat(groupId);
  const week = useQuery({ ...weekQuery(groupId, on), placeholderData: (old) => old });
  const [sort, setSort] = useState<WeekSort>("urgency");
  const [show, setShow] = useState<WeekShow>("all");
  const [changing, setChanging] = useState<WeekRow>();
  const queries = useQueryClient();
  const decide = useSave({
    save: (some: readonly Deciding[]) =>
      api.call("PUT /api/groups/:groupId/week/decisions", {
        params: { groupId },
        body: {
          weekStartsOn: week.data?.weekStartsOn ?? "",
          decisions: some.map(({ row, decision, reason }) => ({
            id: makeId(),
            runnerId: row.runnerId,
            decision,
            ...(reason === undefined || reason === "" ? {} : { reason }),
          })),
        },
      }),
    groupId,
    changeId: (answer) => answer.changeId,
    // The decision shows at once; the list behind it is read again in its own time.
    done: (answer) =>
      queries.setQueryData(weekQuery(groupId, on).queryKey, (old) => (old ? withDecisions(old, answer.decided) : old)),
    said: (answer, some) => {
      const first = some[0];
      const refused = answer.refused.map((one) => one.because);
      const said =
        some.length === 1 && first && answer.decided.length === 1
          ? weekWords.decided(first.row.name, decisionWords[first.decision])
          : weekWords.done(answer.decided.length);
      return refused.length === 0 ? said : `${said} ${weekWords.refusedSome(refused.length)} ${refused[0]}`;
    },
  });
  const confirm = (row: WeekRow): void => {
    if (row.proposed) decide.mutate([{ row, decision: row.proposed.decision }]);
  };
  // "c" on a line confirms it.
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== "c" || event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
      const line = event.target instanceof HTMLElement ? event.target.closest<HTMLElement>("[data-runner]") : null;
      const row = week.data?.rows.find((one) => one.runnerId === line?.dataset["runner"]);
      if (row?.proposed && row.decided === null) decide.mutate([{ row, decision: row.proposed.decision }]);
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  });
  const go = (next: string | undefined): void =>
    void navigate({ to: "/g/$groupId/week", params: { groupId }, search: next === undefined ? {} : { on: next } });
  return (
    <Page wide>
      <Loaded query={week}>
        {(data) => {
          const rows = shownRows(data.rows, show, sort, format.reading.locale);
          const open = confirmable(rows);
          const sent = data.rows.filter((row) => !row.sentNothing).length;
          const anyPlan = data.rows.some((row) => row.proposed !== null || row.decided !== null);
          return (
            <>
              <div className="title-row">
                <div>
                  <PageTitle
                    text={on === undefined ? weekWords.title : weekWords.weekOf(format.date(data.weekStartsOn))}
                  />
                  {data.total > 0 && <p className="muted">{weekWords.sent(sent, data.total)}</p>}
                </div>
                <div className="row no-print">
                  <Button onClick={() => go(addDays(data.weekStartsOn, -7))}>{weekWords.before}</Button>
                  {on !== undefined && <Button onClick={() => go(undefined)}>{weekWords.thisWeek}</Button>}
                  {on !== undefined && (
                    <Button onClick={() => go(addDays(data.weekStartsOn, 7))}>{weekWords.after}</Button>
                  )}
                </div>
              </div>
              <ProposalsWaiting groupId={groupId} format={format} />
              {data.rows.length === 0 || !anyPlan ? (
                <section className="empty">
                  <h2>{weekWords.emptyTitle}</h2>
                  <p>{weekWords.emptyLead}</p>
                  <div className="row">
                    <Link to="/g/$groupId/evening" params={{ groupId }} className="button button-go">
                      {weekWords.toCount}
                    </Link>
                    <Link to="/g/$groupId/runners" params={{ groupId }} className="button">
                      {weekWords.toRunners}
                    </Link>
                  </div>
                </section>
              ) : (
                <>
                  <div className="row row-end week-tools no-print">
                    <Choice<WeekShow>
                      label={weekWords.show}
                      labelHidden
                      value={show}
                      onChange={setShow}
                      options={[
                        { value: "all", text: weekWords.showAll },
                        { value: "open", text: weekWords.showOpen },
                        { value: "silent", text: weekWords.showSilent },
                        { value: "pain", text: weekWords.showPain },
                      ]}
                    />
                    <div className="row week-sort">
                      <SelectField
                        label={weekWords.sort}
                        value={sort}
                        onChange={(event) => setSort(event.target.value as WeekSort)}
                      >
                        <option value="urgency">{weekWords.sortUrgency}</option>
                        <option value="name">{weekWords.sortName}</option>
                        <option value="target">{weekWords.sortTarget}</option>
                      </SelectField>
                    </div>
                  </div>
                  <ul className="week">
                    {rows.map((row) => (
                      <WeekLine
                        key={row.runnerId}
                        row={row}
                        groupId={groupId}
                        format={format}
                        busy={decide.isPending && decide.variables.some((one) => one.row.runnerId === row.runnerId)}
                        onConfirm={() => confirm(row)}
                        onChange={() => setChanging(row)}
                      />
                    ))}
                  </ul>
                  <div className="week-foot no-print">
                    {open.length > 0 ? (
                      <>
                        <Button
                          kind="go"
                          big
                          disabled={decide.isPending}
                          onClick={() =>
                            decide.mutate(open.map((row) => ({ row, decision: row.proposed?.decision ?? "stay" })))
                          }
                        >
                          {weekWords.confirmMany[confirmWord(rows, open)](open.length)}
                        </Button>
                        <span className="muted">{weekWords.others}</span>
                      </>
                    ) : (
                      <span className="muted">
                        {shownRows(data.rows, "open", sort, format.reading.locale).length > 0
                          ? weekWords.stopsLeft
                          : weekWords.nothingLeft}
                      </span>
                    )}
                    <HelpMark topic="decision" />
                  </div>
                </>
              )}
              <Caution />
            </>
          );
        }}
      </Loaded>
      {changing && (
        <ChangeDecision
          row={changing}
          onClose={() => setChanging(undefined)}
          onDecide={(deciding) => {
            setChanging(undefined);
            decide.mutate([deciding]);
          }}
        />
      )}
    </Page>
  );
}
