// What the group takes along: tracks, paper, calendars, messages.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { Loaded } from "../controls/loaded.tsx";
import { groupQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { planWords } from "../strings/plan.ts";
import { handOutWords as words } from "../strings/hand-outs.ts";
import { CalendarPart } from "./calendar-part.tsx";
import "./hand-outs.css";
import { MessagesPart } from "./messages-part.tsx";
import { TracksPart } from "./tracks-part.tsx";

export function HandOuts() {
  const groupId = useGroupId();
  const format = useFormat(groupId);
  const group = useQuery(groupQuery(groupId));
  return (
    <Page>
      <div className="title-row">
        <div>
          <h1>{words.title}</h1>
          <p className="muted">{words.lead}</p>
        </div>
        <nav className="row" aria-label={words.print}>
          <Link className="button" to="/g/$groupId/print" params={{ groupId }} search={{}}>
            {words.sheet}
          </Link>
          <Link className="button" to="/g/$groupId/print" params={{ groupId }} search={{ what: "cards" }}>
            {words.cards}
          </Link>
          <Link className="button" to="/g/$groupId/practice" params={{ groupId }}>
            {planWords.practiceLink}
          </Link>
        </nav>
      </div>
      <Loaded query={group}>
        {(data) => (
          <>
            <TracksPart groupId={groupId} evening={data.eveningWeekday} />
            <MessagesPart groupId={groupId} format={format} coach={data.role === "coach"} />
            <CalendarPart groupId={groupId} format={format} coach={data.role === "coach"} />
          </>
        )}
      </Loaded>
    </Page>
  );
}
