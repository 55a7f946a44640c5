// The evening on paper: one sheet for the coach, or a card for everyone.
import { useQuery } from "@tanstack/react-query";
import { Link, useNavigate, useSearch } from "@tanstack/react-router";
import { useState } from "react";
import type { Sheet } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { Caution } from "../controls/caution.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { practiceQuery, sheetQuery } from "../data/coaching-queries.ts";
import { groupQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { groupName } from "../shell/group-name.ts";
import { Page } from "../shell/header.tsx";
import { commonWords } from "../strings/common.ts";
import { cardWords as words } from "../strings/hand-outs.ts";
import { CardSheet } from "./card-sheet.tsx";
import "./cards.css";

export function EveningPrint() {
  const groupId = useGroupId();
  const { on, what = "sheet" } = useSearch({ from: "/g/$groupId/print" });
  const navigate = useNavigate();
  const format = useFormat(groupId);
  const [treadmill, setTreadmill] = useState(false);
  const sheet = useQuery(sheetQuery(groupId, on === undefined ? {} : { on }));
  const group = useQuery(groupQuery(groupId)).data;
  const drills = useQuery(practiceQuery(groupId)).data?.drills ?? [];
  return (
    <Page>
      <Loaded query={sheet}>
        {(data) => (
          <>
            <div className="no-print print-bar">
              <h1>
                {what === "cards" ? words.groupTitle(format.date(data.on)) : words.sheetTitle(format.date(data.on))}
              </h1>
              <div className="row row-end">
                <Button kind="go" onClick={() => print()}>
                  {commonWords.print}
                </Button>
                <TextField
                  label={words.day}
                  type="date"
                  value={data.on}
                  onChange={(event) =>
                    event.target.value !== "" &&
                    void navigate({
                      to: "/g/$groupId/print",
                      params: { groupId },
                      search: { on: event.target.value, what },
                      replace: true,
                    })
                  }
                />
                <Link
                  className="button"
                  to="/g/$groupId/print"
                  params={{ groupId }}
                  search={{ on: data.on, what: what === "cards" ? "sheet" : "cards" }}
                >
                  {what === "cards" ? words.toSheet : words.toCards}
                </Link>
                <Link className="button" to="/g/$groupId/hand-outs" params={{ groupId }}>
                  {words.back}
                </Link>
                {what === "cards" && (
                  <CheckField
                    label={words.treadmill}
                    checked={treadmill}
                    onChange={(event) => setTreadmill(event.target.checked)}
                  />
                )}
              </div>
            </div>
            {data.rows.length === 0 && <p className="empty">{words.sheetNone}</p>}
            {what === "cards"
              ? data.rows.map((row) => (
                  <CardSheet
                    key={row.runnerId}
                    session={row.planned.session}
                    runner={row.name}
                    on={data.on}
                    targetSpm={
                      row.planned.session.blocks.some((block) => block.stepRateSpm !== undefined)
                        ? row.stepRateSpm
                        : undefined
                    }
                    baselineSpm={row.baselineSpm}
                    speedMps={row.speedMps}
                    speedExponent={row.speedExponent}
                    drills={drills}
                    treadmill={treadmill}
                    format={format}
                  />
                ))
              : data.rows.length > 0 && (
                  <SheetTable sheet={data} format={format} name={group ? groupName(group) : ""} />
                )}
          </>
        )}
      </Loaded>
    </Page>
  );
}

function SheetTable({
  sheet,
  format,
  name,
}: {
  readonly sheet: Sheet;
  readonly format: Format;
  readonly name: string;
}) {
  return (
    <article className="evening-sheet">
      <p className="print-only sheet-name">
        <strong>{name}</strong>, {words.sheetTitle(format.date(sheet.on))}
      </p>
      <p className="sheet-lanes">
        {sheet.lanes.map((lane, index) => (
          <span key={lane.beatSpm}>{words.laneOf(index + 1, format.beat(lane.beatSpm), lane.memberCount)}</span>
        ))}
      </p>
      <table className="table sheet-table">
        <thead>
          <tr>
            <th scope="col" className="num">
              {words.sheetColumn.lane}
            </th>
            <th scope="col">{words.sheetColumn.name}</th>
            <th scope="col" className="num">
              {words.sheetColumn.target}
            </th>
            <th scope="col" className="num">
              {words.sheetColumn.beat}
            </th>
            <th scope="col" className="num">
              {words.sheetColumn.minutes}
            </th>
            <th scope="col" className="sheet-side">
              <span className="visually-hidden">{words.column.note}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {sheet.rows.map((row, index) => (
            <tr
              key={row.runnerId}
              className={
                index > 0 && sheet.rows[index - 1]?.laneNumber !== row.laneNumber ? "sheet-next-lane" : undefined
              }
            >
              <td className="num">{row.laneNumber ?? "–"}</td>
              <th scope="row">
                {row.name}
                <span className="muted small sheet-note">{noteOf(row, format)}</span>
              </th>
              <td className="num">{format.beatValue(row.stepRateSpm)}</td>
              <td className="num">{row.beatSpm === null ? words.noBeat : format.beatValue(row.beatSpm)}</td>
              <td className="num">{format.number(row.planned.mainMinutes, 0)}</td>
              <td className="sheet-side">{noteOf(row, format)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {sheet.without.length > 0 && (
        <p className="small">
          <span className="muted">{words.without}: </span>
          {sheet.without.map((one) => `${one.name} (${words.why[one.why]})`).join(", ")}
        </p>
      )}
      <Caution />
    </article>
  );
}

function noteOf({ planned }: Sheet["rows"][number], format: Format): string {
  if (planned.firstOfStage) return words.newStep;
  return planned.cueShare < 1 ? words.cueShare(format.percent(planned.cueShare)) : "";
}
