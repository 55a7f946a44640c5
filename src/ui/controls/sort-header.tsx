// A column head that sorts: a button inside the cell, the direction told by aria-sort and a mark.
import type { ReactNode } from "react";

export interface Sorting<Key extends string> {
  readonly key: Key;
  readonly descending: boolean;
}

export interface SortHeaderProps<Key extends string> {
  readonly sortKey: Key;
  readonly sorting: Sorting<Key>;
  readonly onSort: (sorting: Sorting<Key>) => void;
  readonly numeric?: boolean;
  readonly children: ReactNode;
}

export function SortHeader<Key extends string>({ sortKey, sorting, onSort, numeric, children }: SortHeaderProps<Key>) {
  const active = sorting.key === sortKey;
  const mark = active ? (sorting.descending ? "↓" : "↑") : "";
  return (
    <th
      scope="col"
      className={numeric === true ? "num" : undefined}
      aria-sort={active ? (sorting.descending ? "descending" : "ascending") : "none"}
    >
      <button
        type="button"
        className="sort"
        onClick={() => onSort({ key: sortKey, descending: active ? !sorting.descending : false })}
      >
        {children}
        <span className="sort-mark" aria-hidden="true">
          {mark}
        </span>
      </button>
    </th>
  );
}
