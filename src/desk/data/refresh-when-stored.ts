// What went through the outbox changes the roster, the week, the lanes and the runner's page: all are asked for again.
import type { QueryClient } from "@tanstack/react-query";
import { onStored } from "./outbox.ts";

/** Thirty counts that arrive together are one refresh. */
const GATHER_MS = 250;
/** Baselines and lists are reckoned in the background after the answer. */
const RECKONED_MS = 4000;

export function refreshWhenStored(queries: QueryClient): void {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  onStored(() => {
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      void queries.invalidateQueries();
      waiting = setTimeout(() => void queries.invalidateQueries(), RECKONED_MS);
    }, GATHER_MS);
  });
}
