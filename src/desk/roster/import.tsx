// A spreadsheet of runners: look first, say which column is what, then add, all undoable.
import { useNavigate } from "@tanstack/react-router";
import { useState } from "react";
import type { CallInput, RosterPreview } from "../../api/index.ts";
import { describeProblem, describeProblems } from "../../engine/quantities/problem.ts";
import { Button } from "../../ui/controls/button.tsx";
import { TextArea } from "../../ui/controls/field.tsx";
import { FileDrop } from "../controls/file-drop.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api, makeId } from "../data/client.ts";
import { useNotices } from "../data/notices.tsx";
import { useSave } from "../data/use-save.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { importWords } from "../strings/groups.ts";
import "./roster.css";

type Columns = NonNullable<CallInput<"POST /api/groups/:groupId/roster/preview">["body"]["columns"]>;
type Field = Columns[string];
type PreviewRow = RosterPreview["rows"][number];

const LARGEST_BYTES = 1_000_000;
const FIELDS = Object.keys(importWords.fields) as Field[];

export function RosterImport() {
  const groupId = useGroupId();
  const navigate = useNavigate();
  const notices = useNotices();
  const [csv, setCsv] = useState("");
  const [all, setAll] = useState<ReadonlySet<number>>(new Set());
  const preview = useSave({
    quietErrors: true,
    save: (input: { readonly csv: string; readonly columns?: Columns }) =>
      api.call("POST /api/groups/:groupId/roster/preview", { params: { groupId }, body: input }),
  });
  const look = (text: string, columns?: Columns): void => {
    if (text.trim() === "") return;
    preview.mutate(columns === undefined ? { csv: text } : { csv: text, columns });
  };
  const read = async (file: File): Promise<void> => {
    if (file.size > LARGEST_BYTES) {
      notices.warn(importWords.tooBig);
      return;
    }
    const text = await file.text();
    setCsv(text);
    setAll(new Set());
    look(text);
  };
  const found = preview.data;
  const chosen = (found?.rows ?? []).filter(
    (row) => row.runner !== null && (row.duplicateOf === null || all.has(row.row)),
  );
  const commit = useSave({
    save: () =>
      api.call("POST /api/groups/:groupId/roster", {
        params: { groupId },
        body: { runners: chosen.flatMap((row) => (row.runner === null ? [] : [{ id: makeId(), runner: row.runner }])) },
      }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => importWords.done(answer.added),
    done: () => void navigate({ to: "/g/$groupId/runners", params: { groupId } }),
  });
  return (
    <Page>
      <PageTitle text={importWords.title} />
      <p className="muted">{importWords.lead}</p>
      <FileDrop
        label={importWords.drop}
        choose={importWords.choose}
        types={[".csv", "text/csv", "text/plain"]}
        onFiles={([file]) => file && void read(file)}
      />
      <form
        className="stack"
        onSubmit={(event) => {
          event.preventDefault();
          look(csv);
        }}
      >
        <TextArea
          label={importWords.paste}
          hint={importWords.pasteHint}
          rows={4}
          value={csv}
          onChange={(event) => setCsv(event.target.value)}
        />
        <div>
          <Button type="submit" disabled={csv.trim() === "" || preview.isPending}>
            {importWords.look}
          </Button>
        </div>
      </form>
      <ProblemList error={preview.error} />
      {found && (
        <>
          <h2 className="section-head">{importWords.columns}</h2>
          <p className="muted">{importWords.columnLead}</p>
          <table className="table">
            <thead>
              <tr>
                <th scope="col">{importWords.inFile}</th>
                <th scope="col">{importWords.sample}</th>
                <th scope="col">{importWords.takenFor}</th>
              </tr>
            </thead>
            <tbody>
              {found.columns.map((column) => (
                <tr key={column.header}>
                  <th scope="row">{column.header}</th>
                  <td>{column.sample}</td>
                  <td>
                    <select
                      className="select"
                      aria-label={`${column.header}: ${importWords.takenFor}`}
                      value={column.field}
                      onChange={(event) =>
                        look(csv, {
                          ...Object.fromEntries(found.columns.map((one) => [one.header, one.field])),
                          [column.header]: event.target.value as Field,
                        })
                      }
                    >
                      {FIELDS.map((field) => (
                        <option key={field} value={field}>
                          {importWords.fields[field]}
                        </option>
                      ))}
                    </select>
                    {column.unit !== null && <span className="muted small"> {importWords.unit(column.unit)}</span>}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          {[...describeProblems(found.problems), ...found.warnings.map((one) => one.message)].map((sentence) => (
            <p key={sentence} className="notice">
              {sentence}
            </p>
          ))}
          <h2 className="section-head">{importWords.rows}</h2>
          <table className="table">
            <thead>
              <tr>
                <th scope="col" className="num">
                  {importWords.row}
                </th>
                <th scope="col">{importWords.fields["name"]}</th>
                <th scope="col">{importWords.outcome}</th>
              </tr>
            </thead>
            <tbody>
              {found.rows.map((row) => (
                <tr key={row.row}>
                  <td className="num">{row.row}</td>
                  <th scope="row">{row.runner?.name ?? ""}</th>
                  <td>
                    <Outcome
                      row={row}
                      anyway={all.has(row.row)}
                      onAnyway={() => setAll((old) => new Set([...old, row.row]))}
                    />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <div className="week-foot">
            <Button
              kind="go"
              big
              disabled={chosen.length === 0 || commit.isPending}
              onClick={() => commit.mutate(undefined)}
            >
              {importWords.commit(chosen.length)}
            </Button>
          </div>
        </>
      )}
    </Page>
  );
}

function Outcome({
  row,
  anyway,
  onAnyway,
}: {
  readonly row: PreviewRow;
  readonly anyway: boolean;
  readonly onAnyway: () => void;
}) {
  const problems = row.problems.map((one) => describeProblem(one)).join(" ");
  if (row.runner === null) return <>{problems === "" ? importWords.unreadable : problems}</>;
  if (row.duplicateOf !== null && !anyway)
    return (
      <span className="row">
        {row.duplicateOf.row === null ? importWords.duplicate : importWords.duplicateOfRow(row.duplicateOf.row)}
        <Button kind="quiet" onClick={onAnyway}>
          {importWords.addAnyway}
        </Button>
      </span>
    );
  return (
    <>
      {importWords.willAdd}
      {problems !== "" && <span className="muted">. {problems}</span>}
    </>
  );
}
