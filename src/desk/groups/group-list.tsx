// All groups: one line each. The first visit is shown around with the invented one.
import { useQuery } from "@tanstack/react-query";
import { Link, useNavigate } from "@tanstack/react-router";
import { useState } from "react";
import type { Group } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField } from "../../ui/controls/field.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api } from "../data/client.ts";
import { useNotices } from "../data/notices.tsx";
import { groupsQuery } from "../data/queries.ts";
import { useBrowserFormat } from "../data/use-format.ts";
import { useSave } from "../data/use-save.ts";
import { groupName } from "../shell/group-name.ts";
import { Header, Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { groupWords } from "../strings/groups.ts";
import { GroupFormDialog } from "./group-form.tsx";

export function GroupList() {
  const [archived, setArchived] = useState(false);
  const [making, setMaking] = useState(false);
  const groups = useQuery(groupsQuery(archived));
  return (
    <>
      <Header />
      <Page>
        <div className="title-row">
          <div>
            <PageTitle text={groupWords.title} />
            <p className="muted">{groupWords.lead}</p>
          </div>
          <Button kind="go" onClick={() => setMaking(true)}>
            {groupWords.newGroup}
          </Button>
        </div>
        <Loaded query={groups}>
          {({ items }) => (
            <>
              {items.length > 0 ? (
                <GroupTable groups={items} />
              ) : (
                !archived && <FirstVisit onMake={() => setMaking(true)} />
              )}
              <FirstTour groups={items} />
              <CheckField
                label={groupWords.showArchived}
                checked={archived}
                onChange={(event) => setArchived(event.target.checked)}
              />
            </>
          )}
        </Loaded>
        <GroupFormDialog open={making} onClose={() => setMaking(false)} />
      </Page>
    </>
  );
}

function GroupTable({ groups }: { readonly groups: readonly Group[] }) {
  const format = useBrowserFormat();
  return (
    <table className="table table-stack">
      <thead>
        <tr>
          <th scope="col">{groupWords.column.group}</th>
          <th scope="col">{groupWords.column.runners}</th>
          <th scope="col">{groupWords.column.dates}</th>
          <th scope="col">{groupWords.column.evening}</th>
        </tr>
      </thead>
      <tbody>
        {groups.map((group) => (
          <tr key={group.id}>
            <th scope="row">
              <Link to="/g/$groupId/week" params={{ groupId: group.id }}>
                {groupName(group)}
              </Link>
            </th>
            <td>{groupWords.runners(group.runnerCount)}</td>
            <td>{groupWords.fromTo(format.date(group.startsOn), group.weeks)}</td>
            <td>{groupWords.weekdays[group.eveningWeekday - 1]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function FirstVisit({ onMake }: { readonly onMake: () => void }) {
  const navigate = useNavigate();
  const add = useSave({
    save: () => api.call("POST /api/demo"),
    said: () => groupWords.demoAdded,
    done: ({ groupId }) => void navigate({ to: "/g/$groupId/week", params: { groupId } }),
  });
  return (
    <section className="empty">
      <h2>{groupWords.emptyTitle}</h2>
      <p>{groupWords.emptyLead}</p>
      <div className="row">
        <Button kind="go" onClick={onMake}>
          {groupWords.newGroup}
        </Button>
        <Button disabled={add.isPending} onClick={() => add.mutate(undefined)}>
          {groupWords.addDemo}
        </Button>
      </div>
    </section>
  );
}

function FirstTour({ groups }: { readonly groups: readonly Group[] }) {
  const demo = groups.find((group) => group.invented);
  const notices = useNotices();
  const bringBack = useSave({ save: () => api.call("POST /api/demo"), said: () => groupWords.demoBack });
  const remove = useSave({
    save: () => api.call("DELETE /api/demo"),
    // It is made anew, in some seconds: all there is to bring back of people who do not exist.
    done: () => notices.say(groupWords.demoRemoved, () => bringBack.mutate(undefined)),
  });
  if (!demo) return null;
  return (
    <section className="notice" aria-labelledby="tour">
      <h2 id="tour">{groupWords.demoTitle}</h2>
      <p>{groupWords.demoLead}</p>
      <ol className="tour">
        {groupWords.tour.map((stop) => (
          <li key={stop.to}>
            <Link to={`/g/$groupId/${stop.to}` as "/g/$groupId/week"} params={{ groupId: demo.id }}>
              {stop.text}
            </Link>
          </li>
        ))}
      </ol>
      <Button disabled={remove.isPending} onClick={() => remove.mutate(undefined)}>
        {groupWords.removeDemo}
      </Button>
    </section>
  );
}
