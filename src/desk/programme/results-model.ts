// Which estimate is shown and in what order. No screen in here.
import type { ProgrammeResult } from "../../api/index.ts";
import type { ForestMark } from "../../ui/pictures/forest-row.tsx";
import type { Sorting } from "../../ui/controls/sort-header.tsx";

export type WhichEstimate = "own" | "shrunken";
export type ResultSort = "name" | "change" | "sessions";
type Row = ProgrammeResult["runners"][number];

export function markOf(row: Row, which: WhichEstimate): ForestMark | undefined {
  const value = which === "own" ? row.ownChangeSpm : row.shrunkenChangeSpm;
  return value === null
    ? undefined
    : { estimate: value.estimate, low: value.interval95.low, high: value.interval95.high };
}

/** Runners without an estimate always come last: they are not the smallest change. */
export function sortedResults(
  rows: readonly Row[],
  sorting: Sorting<ResultSort>,
  which: WhichEstimate,
  locale: string,
): readonly Row[] {
  const sign = sorting.descending ? -1 : 1;
  const byName = (a: Row, b: Row): number => a.name.localeCompare(b.name, locale);
  return rows.toSorted((a, b) => {
    if (sorting.key === "name") return sign * byName(a, b);
    if (sorting.key === "sessions") return sign * (a.sessionsDone - b.sessionsDone) || byName(a, b);
    const [x, y] = [markOf(a, which), markOf(b, which)];
    if (!x || !y) return (x ? 0 : 1) - (y ? 0 : 1) || byName(a, b);
    return sign * (x.estimate - y.estimate) || byName(a, b);
  });
}
