// Everything inside one group: its name, where the programme stands, and the five places.
import { useQuery } from "@tanstack/react-query";
import { Link, Outlet, useParams } from "@tanstack/react-router";
import { groupQuery } from "../data/queries.ts";
import { shellWords } from "../strings/common.ts";
import { groupName } from "./group-name.ts";
import { Header } from "./header.tsx";
import { programmeWeek } from "./programme-week.ts";
import { Shortcuts } from "./shortcuts.tsx";
import { todayPlain } from "../data/client.ts";

const PLACES = [
  { to: "/g/$groupId/evening", text: shellWords.evening },
  { to: "/g/$groupId/week", text: shellWords.week },
  { to: "/g/$groupId/runners", text: shellWords.runners },
  { to: "/g/$groupId/hand-outs", text: shellWords.handOuts },
  { to: "/g/$groupId/programme", text: shellWords.programme },
  { to: "/g/$groupId/settings", text: shellWords.settings },
] as const;

export function useGroupId(): string {
  const { groupId } = useParams({ strict: false });
  if (groupId === undefined) throw new TypeError("useGroupId: must be inside a group's page");
  return groupId;
}

export function useRunnerId(): string {
  const { runnerId } = useParams({ strict: false });
  if (runnerId === undefined) throw new TypeError("useRunnerId: must be inside a runner's page");
  return runnerId;
}

export function GroupLayout() {
  const groupId = useGroupId();
  const group = useQuery(groupQuery(groupId)).data;
  return (
    <>
      <Header
        where={
          group && (
            <span className="where">
              <span className="where-name">{groupName(group)} · </span>
              {weekText(group)}
            </span>
          )
        }
      >
        <nav className="places" aria-label={shellWords.mainNavigation}>
          {PLACES.map((place) => (
            <Link key={place.to} to={place.to} params={{ groupId }} activeProps={{ "aria-current": "page" }}>
              {place.text}
            </Link>
          ))}
        </nav>
      </Header>
      <Shortcuts groupId={groupId} />
      <Outlet />
    </>
  );
}

function weekText(group: { startsOn: string; weeks: number }): string {
  const week = programmeWeek(group.startsOn, todayPlain());
  if (week < 1) return shellWords.beforeStart;
  if (week > group.weeks) return shellWords.afterEnd;
  return shellWords.weekOf(week, group.weeks);
}
