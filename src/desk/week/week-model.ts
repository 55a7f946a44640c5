// Sorting, filtering and choosing in the week's list. No screen in here.
import type { Decision, Week, WeekRow } from "../../api/index.ts";

export type WeekSort = "urgency" | "name" | "target";
export type WeekShow = "all" | "open" | "silent" | "pain";

export function shownRows(
  rows: readonly WeekRow[],
  show: WeekShow,
  sort: WeekSort,
  locale: string,
): readonly WeekRow[] {
  const byName = (a: WeekRow, b: WeekRow): number => a.name.localeCompare(b.name, locale);
  const order: Record<WeekSort, (a: WeekRow, b: WeekRow) => number> = {
    // Where there is nothing to decide, nobody has to look first.
    urgency: (a, b) => Number(idle(a)) - Number(idle(b)) || a.urgency - b.urgency || byName(a, b),
    name: byName,
    // Whoever has no target yet comes last.
    target: (a, b) =>
      (a.targetSpm ?? Number.POSITIVE_INFINITY) - (b.targetSpm ?? Number.POSITIVE_INFINITY) || byName(a, b),
  };
  // Pain stays on top, whatever the order.
  return rows
    .filter((row) => matches(row, show))
    .toSorted((a, b) => Number(hurts(b)) - Number(hurts(a)) || order[sort](a, b));
}

function hurts(row: WeekRow): boolean {
  return row.pain !== null && row.pain > 0;
}

function idle(row: WeekRow): boolean {
  return row.proposed === null && row.decided === null;
}

function matches(row: WeekRow, show: WeekShow): boolean {
  switch (show) {
    case "all":
      return true;
    case "open":
      return row.proposed !== null && row.decided === null;
    case "silent":
      return row.sentNothing;
    case "pain":
      return hurts(row);
  }
}

/** What one press may confirm: proposed, undecided, and never stop-and-refer, which is looked at one by one. */
export function confirmable(rows: readonly WeekRow[]): readonly WeekRow[] {
  return rows.filter(
    (row) => row.decided === null && row.proposed !== null && row.proposed.decision !== "stop-and-refer",
  );
}

/** What the one press is called: "the other" only when some on the list are decided already. */
export function confirmWord(rows: readonly WeekRow[], open: readonly WeekRow[]): "all" | "other" | "some" {
  if (rows.some((row) => row.decided !== null)) return "other";
  return open.length === rows.filter((row) => row.proposed !== null).length ? "all" : "some";
}

/** The week with these decisions made. */
export function withDecisions(week: Week, decided: readonly Decision[]): Week {
  const byRunner = new Map(decided.map((decision) => [decision.runnerId, decision]));
  const rows = week.rows.map((row) => ({ ...row, decided: byRunner.get(row.runnerId) ?? row.decided }));
  return { ...week, rows, undecided: rows.filter((row) => row.proposed !== null && row.decided === null).length };
}

/** Overruling stop-and-refer needs a typed reason (rule D10). */
export function reasonRequired(row: WeekRow, decision: string): boolean {
  return row.proposed?.decision === "stop-and-refer" && decision !== "stop-and-refer";
}
