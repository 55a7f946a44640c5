// What the roster's "Show" means. The server searches, sorts and pages; the last two narrow what came.
import type { RosterRow } from "../../api/index.ts";
import type { RosterFilter } from "../data/queries.ts";

export type RosterShow = "everyone" | "remote" | "here" | "archived" | "need-baseline" | "pain";
export type RosterSortKey = "name" | "baseline" | "target" | "last-recording";

export function serverFilter(
  show: RosterShow,
  search: string,
  sort: RosterSortKey,
  descending: boolean,
): NonNullable<RosterFilter> {
  return {
    sort,
    ...(descending ? { descending } : {}),
    ...(search.trim() === "" ? {} : { search: search.trim() }),
    ...(show === "archived" ? { archived: true } : {}),
    ...(show === "remote" ? { remote: true } : {}),
    ...(show === "here" ? { remote: false } : {}),
  };
}

/** What the page asks for when it is opened. */
export const FIRST_ROSTER = serverFilter("everyone", "", "name", false);

export function narrowed(rows: readonly RosterRow[], show: RosterShow): readonly RosterRow[] {
  if (show === "need-baseline") return rows.filter((row) => row.baselineSpm === null);
  if (show === "pain") return rows.filter((row) => row.latestPain !== null && row.latestPain > 0);
  return rows;
}

/** Whose proposal can be accepted as computed. */
export function acceptable(rows: readonly RosterRow[]): readonly RosterRow[] {
  return rows.filter((row) => !row.accepted && (row.advice === "change" || row.advice === "leave-alone"));
}
