// One evening at the track: who is here, the clock and the counts, the lanes.
import { useQuery } from "@tanstack/react-query";
import { Link, useNavigate, useSearch } from "@tanstack/react-router";
import { useMemo, useState } from "react";
import { Choice } from "../../ui/controls/choice.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { todayPlain } from "../data/client.ts";
import { rosterQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { eveningWords } from "../strings/evening.ts";
import { rosterWords } from "../strings/groups.ts";
import { Attendance, usePresence } from "./attendance.tsx";
import { CountPart } from "./count-part.tsx";
import "./evening.css";
import { LanesPart } from "./lanes.tsx";
import { useWakeLock } from "./use-wake-lock.ts";

type Part = "count" | "attendance" | "lanes";

export function Evening() {
  const groupId = useGroupId();
  const format = useFormat(groupId);
  const [on] = useState(() => todayPlain());
  const { part = "count" } = useSearch({ from: "/g/$groupId/evening" });
  const navigate = useNavigate();
  const roster = useQuery(rosterQuery(groupId));
  const presence = usePresence(groupId, on);
  useWakeLock(true);
  const runners = useMemo(
    () =>
      (roster.data?.items ?? []).map((row) => ({
        id: row.runner.id,
        name: row.runner.name,
        remote: row.runner.remote,
      })),
    [roster.data],
  );
  const here = runners.filter((one) => presence.marks.get(one.id) === "present");
  const away = runners.filter((one) => ["absent", "excused"].includes(presence.marks.get(one.id) ?? ""));
  // Before anyone is marked, everyone who comes to evenings is counted.
  const counted = here.length > 0 ? here : runners.filter((one) => !one.remote && !away.includes(one));
  return (
    <Page wide>
      <div className="title-row">
        <div>
          <PageTitle text={eveningWords.title} />
          <p className="muted">{eveningWords.on(format.date(on))}</p>
        </div>
        <Choice<Part>
          label={eveningWords.tabsLabel}
          labelHidden
          value={part}
          onChange={(next) =>
            void navigate({ to: "/g/$groupId/evening", params: { groupId }, search: { part: next }, replace: true })
          }
          options={[
            { value: "attendance", text: eveningWords.tabs.attendance },
            { value: "count", text: eveningWords.tabs.count },
            { value: "lanes", text: eveningWords.tabs.lanes },
          ]}
        />
      </div>
      <Loaded query={roster}>
        {() =>
          runners.length === 0 ? (
            <section className="empty">
              <h2>{eveningWords.emptyTitle}</h2>
              <p>{eveningWords.emptyLead}</p>
              <Link to="/g/$groupId/import" params={{ groupId }} className="button button-go">
                {rosterWords.importCsv}
              </Link>
            </section>
          ) : (
            <>
              {part === "attendance" && <Attendance runners={runners} presence={presence} />}
              {part === "count" && <CountPart groupId={groupId} on={on} runners={counted} format={format} />}
              {part === "lanes" && <LanesPart groupId={groupId} on={on} format={format} />}
            </>
          )
        }
      </Loaded>
    </Page>
  );
}
